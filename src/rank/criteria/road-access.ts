import { CLEARANCES, type Clearance, managing, seatsFor, VEHICLES_ONE_WAY } from '../../approach/vehicles.ts';
import { at, numberAt } from '../../array.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { answer, compare } from '../outcome.ts';
import { isOpenRoad } from '../road.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT } from '../verdict.ts';

export interface RoadAccessReason extends AnyReason {
  readonly code: 'closed' | 'tooFewSeats' | 'stranded' | 'seats' | 'noVehicles';
  readonly clearance: Clearance | null;
  /** As it is stated; `isRoadAsked`: it is not plainly open. */
  readonly roadStatus: string | null;
  readonly isRoadAsked: boolean;
  readonly hasVehicles: boolean;
  /** Whether one with a seat goes. */
  readonly isAnyVehicle: boolean;
  readonly seats: number | null;
  readonly party: number;
  /** No pick-up is stated, so that a vehicle has to wait at the end. */
  readonly endsElsewhere: boolean;
}

/**
 * Whether the vehicles that manage the trailhead's road seat the party, and the road is open; of a route that ends
 * elsewhere also whether the group gets back: with two such vehicles, or a pick-up that is stated.
 */
export const roadAccess: Criterion<'roadAccess', RoadAccessReason> = {
  name: 'roadAccess',
  unit: 'seats',
  isShifted: false,
  over({ table: { columns }, party, request: { record } }) {
    // An empty list says that no vehicle goes; none at all that nothing is stated.
    const isKnown = record.cohort.vehicles != null;
    const vehicles = record.cohort.vehicles ?? [];
    const seatsOf = CLEARANCES.map((need) => (isKnown ? seatsFor(need, vehicles) : Number.NaN));
    const countOf = CLEARANCES.map((need) => managing(need, vehicles));
    return (i, _shift, out) => {
      const clearance = numberAt(columns.clearance, i);
      const isStated = !Number.isNaN(clearance);
      // A road that is not described may turn out to be any, but nobody rides without a seat.
      const need = isStated ? clearance : 0;
      const seats = at(seatsOf, need);
      const isStranded =
        numberAt(columns.needsSecondVehicle, i) === 1 && at(countOf, need) < VEHICLES_ONE_WAY;
      const isAsked = !isStated || numberAt(columns.isRoadAsked, i) === 1;
      if (numberAt(columns.isRoadClosed, i) === 1) {
        answer(out, 'closed', RULED_OUT, LEAST_VALUE);
        out.demand = party;
      } else if (seats < party) {
        answer(out, 'tooFewSeats', RULED_OUT, LEAST_VALUE);
        compare(out, party, seats);
      } else if (isStranded) {
        answer(out, 'stranded', INCOMPLETE, LEAST_VALUE);
        out.demand = party;
        out.capacity = seats;
      } else {
        const hasVehicles = !Number.isNaN(seats);
        const value = isAsked || !hasVehicles ? NOT_STATED_VALUE : 1;
        answer(out, hasVehicles ? 'seats' : 'noVehicles', FITS, value);
        compare(out, party, seats);
      }
    };
  },
  reason({ facts, i, route }, { code, capacity }) {
    const { roadClearance, roadStatus } = route.attributes.trailhead ?? {};
    return {
      code: code as RoadAccessReason['code'],
      clearance: roadClearance ?? null,
      roadStatus: roadStatus ?? null,
      isRoadAsked: roadStatus != null && !isOpenRoad(roadStatus),
      hasVehicles: facts.request.record.cohort.vehicles != null,
      isAnyVehicle: (facts.request.record.cohort.vehicles ?? []).some(({ seats }) => seats > 0),
      seats: Number.isNaN(capacity) ? null : capacity,
      party: facts.party,
      endsElsewhere: numberAt(facts.table.columns.needsSecondVehicle, i) === 1,
    };
  },
};
