import { type Clearance, seatsFor } from '../../approach/vehicles.ts';
import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { LEAST_VALUE } from '../value.ts';
import { plural } from '../words.ts';

const NEED: Record<Clearance, string> = {
  any: 'any car manages the road',
  high: 'the road needs high clearance',
  fourWheel: 'the road needs four-wheel drive',
};

/** Whether the vehicles that manage the trailhead's road seat the party, and the road is open. */
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
    if (status !== null && /^\s*closed\b/i.test(status)) {
      return { ...base, value: LEAST_VALUE, verdict: 'ruledOut', reason: `the road is closed: ${status}` };
    }
    const clearance = trailhead?.roadClearance ?? null;
    const vehicles = cohort.vehicles ?? null;
    const need = clearance === null ? 'the road’s clearance is not stated' : NEED[clearance];
    const asked = [
      clearance === null ? 'road clearance not stated' : null,
      vehicles === null || vehicles.length === 0 ? 'vehicles not stated' : null,
      // Only a plain "open" needs no question.
      status !== null && !/^\s*open\b/i.test(status) ? `the road: ${status}` : null,
    ].filter((text) => text !== null);
    const question = asked.length > 0 ? { toCheck: asked.join('; ') } : {};
    const statusText = status === null ? '' : `; road: ${status}`;
    if (vehicles === null || vehicles.length === 0) {
      return {
        ...base,
        value: 0.9,
        verdict: 'fits',
        reason: `${need}; no vehicles are stated${statusText}`,
        ...question,
      };
    }
    // A road that is not described may turn out to be any, but nobody rides without a seat.
    const capacity = seatsFor(clearance ?? 'any', vehicles);
    const judged = { ...base, capacity, headroom: headroomOf(party, capacity) };
    if (capacity >= party) {
      return {
        ...judged,
        value: asked.length > 0 ? 0.9 : 1,
        verdict: 'fits',
        reason: `${need}; ${plural(capacity, 'seat')} for ${party}${statusText}`,
        ...question,
      };
    }
    return {
      ...judged,
      value: LEAST_VALUE,
      verdict: 'ruledOut',
      reason:
        capacity === 0
          ? `${need}; none of the group’s vehicles manages it`
          : `${need}; the vehicles that manage it have ${plural(capacity, 'seat')} for ${plural(party, 'person', 'people')}`,
    };
  },
};
