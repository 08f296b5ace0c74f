import { type Criterion, type FitInput, headroomOf, type Judgement } from '../criterion.ts';
import { LEAST_VALUE, ratioValue } from '../value.ts';
import { type Verdict, verdictRank } from '../verdict.ts';
import { durationText, lengthText } from '../words.ts';

/** An estimate beyond this is a slip in the meeting place, not a drive (design). */
const ABSURD_KM = 2000;

interface Side {
  readonly demand: number;
  readonly limit: number;
  readonly unit: 'km' | 'min';
  readonly estimated: boolean;
  readonly limitText: string;
}

type Limits = FitInput['design']['limits'];

/** One limit judged by itself: a stated figure beyond it rules out; an estimate stretches, asks, and rules out far beyond. */
function judgeSide({ demand, limit, estimated }: Side, limits: Limits): Verdict {
  if (demand <= limit) return 'fits';
  if (!estimated) return 'ruledOut';
  if (demand <= limits.driveStretch * limit) return 'stretch';
  return demand <= limits.driveEstimateRuledOut * limit ? 'incomplete' : 'ruledOut';
}

/** The drive to the trailhead against the cohort's limits; an estimate rules out only far beyond them. */
export const drive: Criterion = {
  name: 'drive',
  judge: ({ approach, cohort, design, units }): Judgement => {
    const { roadKm, roadMin, kmEstimated, minEstimated } = approach;
    const limitKm = cohort.driveLimit?.km ?? null;
    const limitMin = cohort.driveLimit?.minutes ?? null;
    const base = { name: 'drive' as const, demand: roadKm, capacity: limitKm, unit: 'km', headroom: null };
    const open = { ...base, value: 0.9, verdict: 'fits' as const };
    if (roadKm === null && roadMin === null) {
      const toCheck = 'the drive: neither the meeting place nor the road distance is stated';
      return { ...open, reason: 'the drive is not known', toCheck };
    }
    const km =
      roadKm === null
        ? null
        : `${lengthText(roadKm * 1000, units)} by road${kmEstimated ? ' (estimated from the straight line)' : ''}`;
    const min =
      roadMin === null ? null : `about ${durationText(roadMin)}${minEstimated ? ' (estimated)' : ''}`;
    // Nobody drives that far to a trailhead: the meeting place is wrong, most likely swapped.
    const isAbsurd = kmEstimated && roadKm !== null && roadKm > ABSURD_KM;
    const text =
      [km, min].filter((part) => part !== null).join(', ') +
      (isAbsurd ? ' (check the meeting place: are latitude and longitude swapped?)' : '');
    if (limitKm === null && limitMin === null) {
      return { ...open, reason: text, toCheck: 'how far the group may drive' };
    }
    const sides: Side[] = [];
    if (limitKm !== null && roadKm !== null) {
      const limitText = lengthText(limitKm * 1000, units);
      sides.push({ demand: roadKm, limit: limitKm, unit: 'km', estimated: kmEstimated, limitText });
    }
    if (limitMin !== null && roadMin !== null) {
      const limitText = durationText(limitMin);
      sides.push({ demand: roadMin, limit: limitMin, unit: 'min', estimated: minEstimated, limitText });
    }
    // The worse verdict decides; between equal ones the limit that binds more.
    const [binding] = sides
      .map((side) => ({ side, verdict: judgeSide(side, design.limits) }))
      .sort(
        (a, b) =>
          verdictRank(b.verdict) - verdictRank(a.verdict) ||
          b.side.demand * a.side.limit - a.side.demand * b.side.limit,
      );
    if (binding === undefined) {
      return { ...open, reason: text, toCheck: 'the drive against its limit: state the road distance' };
    }
    const { side, verdict } = binding;
    const { demand, limit: capacity, unit } = side;
    const judged = { ...base, demand, capacity, unit, headroom: headroomOf(demand, capacity), verdict };
    const ratio = demand === 0 ? 0 : demand / capacity;
    const value = Number.isFinite(ratio) ? ratioValue(ratio, design.limits.driveStretch) : LEAST_VALUE;
    const beyond = `${text}, beyond the limit of ${side.limitText}`;
    if (verdict === 'fits') return { ...judged, value, reason: `${text}; the limit is ${side.limitText}` };
    if (verdict === 'stretch') {
      return { ...judged, value, reason: beyond, toCheck: 'the road distance: only estimated' };
    }
    if (verdict === 'incomplete') {
      const ask = 'state the road distance: an estimate alone does not rule it out';
      return { ...judged, value: null, reason: `${beyond}; ${ask}` };
    }
    const allowance = side.estimated ? ', even allowing for the estimate' : '';
    return { ...judged, value: LEAST_VALUE, reason: `${beyond}${allowance}` };
  },
};
