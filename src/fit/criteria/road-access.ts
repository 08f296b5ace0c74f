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
    if (status !== null && /\bclosed\b/i.test(status)) {
      return { ...base, value: LEAST_VALUE, verdict: 'ruledOut', reason: `the road is closed: ${status}` };
    }
    const clearance = trailhead?.roadClearance ?? null;
    const vehicles = cohort.vehicles ?? null;
    const met = { ...base, value: 0.9, verdict: 'fits' as const };
    const statusText = status === null ? '' : `; road: ${status}`;
    if (clearance === null) {
      return {
        ...met,
        reason: `the road’s clearance is not stated${statusText}`,
        toCheck: 'road clearance not stated',
      };
    }
    if (vehicles === null || vehicles.length === 0) {
      return {
        ...met,
        reason: `${NEED[clearance]}; no vehicles are stated${statusText}`,
        toCheck: 'vehicles not stated',
      };
    }
    const capacity = seatsFor(clearance, vehicles);
    const needed = party ?? cohort.participants;
    const judged = { ...base, demand: needed, capacity, headroom: headroomOf(needed, capacity) };
    if (capacity >= needed) {
      return {
        ...judged,
        value: 1,
        verdict: 'fits',
        reason: `${NEED[clearance]}; ${plural(capacity, 'seat')} for ${needed}${statusText}`,
        ...(status !== null && /\bunknown|snow|ford|flood|damage/i.test(status)
          ? { toCheck: `the road: ${status}` }
          : {}),
      };
    }
    return {
      ...judged,
      value: LEAST_VALUE,
      verdict: 'ruledOut',
      reason:
        capacity === 0
          ? `${NEED[clearance]}; none of the group’s vehicles manages it`
          : `${NEED[clearance]}; the vehicles that manage it have ${plural(capacity, 'seat')} for ${needed} people`,
    };
  },
};
