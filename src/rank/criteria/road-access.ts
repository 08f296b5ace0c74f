import { type Clearance, managing, seatsFor, VEHICLES_ONE_WAY } from '../../approach/vehicles.ts';
import type { Route } from '../../route/describe-route.ts';
import { plural } from '../../text/words.ts';
import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { FITS, INCOMPLETE, newOutcome, type Outcome, RULED_OUT, settle } from '../outcome.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { VERDICTS } from '../verdict.ts';

/** Road status as it is stated: closed, plainly open, or something to ask about. */
export const isClosedRoad = (status: string | null): boolean =>
  status !== null && /^\s*closed\b/i.test(status);
export const isOpenRoad = (status: string): boolean => /^\s*open\b/i.test(status);

/**
 * Seats of the vehicles that manage the road against the party.
 *
 * @param seats `NaN`: no vehicles are stated
 * @param isAsked whether something about the road is to be asked
 * @param isStranded whether the walk ends elsewhere and nothing brings the group back to its start
 */
export function roadAccessOutcome(
  isClosed: boolean,
  isAsked: boolean,
  seats: number,
  party: number,
  isStranded: boolean,
  out: Outcome,
): void {
  if (isClosed || seats < party) settle(out, RULED_OUT, LEAST_VALUE);
  else if (isStranded) settle(out, INCOMPLETE, LEAST_VALUE);
  else settle(out, FITS, isAsked || Number.isNaN(seats) ? NOT_STATED_VALUE : 1);
}

const NEED: Record<Clearance, string> = {
  any: 'any car manages the road',
  high: 'the road needs high clearance',
  fourWheel: 'the road needs four-wheel drive',
};

/** Whether a route ends elsewhere and no pick-up is stated: then a second vehicle has to wait at its end. */
export const needsSecondVehicle = ({
  measures,
  attributes,
}: Pick<Route, 'measures' | 'attributes'>): boolean =>
  measures.shape === 'oneWay' && attributes.pickUp == null;

/**
 * Whether the vehicles that manage the trailhead's road seat the party, and the road is open; of a route that ends
 * elsewhere also whether the group gets back: with two such vehicles, or a pick-up that is stated.
 */
export const roadAccess: Criterion = {
  name: 'roadAccess',
  judge: ({ route, cohort, party }): Judgement => {
    const trailhead = route.attributes.trailhead ?? null;
    const status = trailhead?.roadStatus ?? null;
    const base = {
      name: 'roadAccess' as const,
      demand: party,
      capacity: null,
      unit: 'seats',
      headroom: null,
    };
    const clearance = trailhead?.roadClearance ?? null;
    const vehicles = cohort.vehicles ?? null;
    const need = clearance === null ? 'the road’s clearance is not stated' : NEED[clearance];
    const asked = [
      clearance === null ? 'road clearance not stated' : null,
      vehicles === null || vehicles.length === 0 ? 'vehicles not stated' : null,
      // Only a plain "open" needs no question.
      status !== null && !isOpenRoad(status) ? `the road: ${status}` : null,
    ].filter((text) => text !== null);
    const question = asked.length > 0 ? { toCheck: asked.join('; ') } : {};
    const statusText = status === null ? '' : `; road: ${status}`;
    // A road that is not described may turn out to be any, but nobody rides without a seat.
    const seats = vehicles === null || vehicles.length === 0 ? null : seatsFor(clearance ?? 'any', vehicles);
    const out = newOutcome();
    const count = managing(clearance ?? 'any', vehicles ?? []);
    const endsElsewhere = needsSecondVehicle(route);
    const isStranded = endsElsewhere && count < VEHICLES_ONE_WAY;
    roadAccessOutcome(isClosedRoad(status), asked.length > 0, seats ?? Number.NaN, party, isStranded, out);
    const verdict = VERDICTS[out.rank] ?? 'ruledOut';
    if (isClosedRoad(status)) {
      return { ...base, value: out.value, verdict, reason: `the road is closed: ${status}` };
    }
    if (isStranded && verdict === 'incomplete') {
      const have = vehicles === null || vehicles.length === 0 ? 'no vehicles are' : 'only one vehicle is';
      return {
        ...base,
        capacity: seats,
        value: null,
        verdict,
        reason: `the walk ends elsewhere and ${have} stated that can get there: state a second one, or with the route how the group is picked up at the end${statusText}`,
      };
    }
    const wayBack = endsElsewhere ? '; the walk ends elsewhere, where one vehicle has to wait' : '';
    if (seats === null) {
      return {
        ...base,
        value: out.value,
        verdict,
        reason: `${need}; no vehicles are stated${statusText}`,
        ...question,
      };
    }
    const answer = {
      ...base,
      capacity: seats,
      headroom: headroomOf(party, seats),
      value: out.value,
      verdict,
    };
    if (verdict === 'fits') {
      return {
        ...answer,
        reason: `${need}; ${plural(seats, 'seat')} for ${party}${wayBack}${statusText}`,
        ...question,
      };
    }
    return {
      ...answer,
      reason:
        seats === 0
          ? `${need}; none of the group’s vehicles manages it`
          : `${need}; the vehicles that manage it have ${plural(seats, 'seat')} for ${plural(party, 'person', 'people')}`,
    };
  },
};
