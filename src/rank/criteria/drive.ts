import { durationText, lengthText } from '../../text/words.ts';
import { type Criterion, type FitInput, headroomOf, type Judgement } from '../criterion.ts';
import { FITS, INCOMPLETE, newOutcome, type Outcome, RULED_OUT, STRETCH, settle } from '../outcome.ts';
import { LEAST_VALUE, NOT_STATED_VALUE, ratioCurve } from '../value.ts';
import { VERDICTS } from '../verdict.ts';

/** An estimate beyond this is a slip in the meeting place, not a drive (design). */
const ABSURD_KM = 2000;

/** A stated drive is from wherever the route's author meant, which need not be this group's meeting place. */
const STATED = ' (stated with the route)';

type Limits = FitInput['design']['limits'];

/** A drive against its limits in km and minutes; `NaN`: not known, not stated. */
interface DriveFigures {
  roadKm: number;
  roadMin: number;
  isKmEstimated: boolean;
  isMinEstimated: boolean;
  limitKm: number;
  limitMin: number;
}

/** One limit judged by itself: a stated figure beyond it rules out; an estimate stretches, asks, and rules out far beyond. */
function sideRank(demand: number, limit: number, isEstimated: boolean, limits: Limits): number {
  if (demand <= limit) return FITS;
  if (!isEstimated) return RULED_OUT;
  if (demand <= limits.driveStretch * limit) return STRETCH;
  return demand <= limits.driveEstimateRuledOut * limit ? INCOMPLETE : RULED_OUT;
}

/**
 * The drive in numbers, and which limit binds: the one with the worse verdict, between equal ones the tighter.
 *
 * @param curve `ratioCurve(limits.driveStretch)`
 */
export function driveOutcome(
  drive: DriveFigures,
  limits: Limits,
  curve: (ratio: number) => number,
  out: Outcome,
): 'km' | 'min' | null {
  const { roadKm, roadMin, limitKm, limitMin } = drive;
  const hasKm = !Number.isNaN(roadKm) && !Number.isNaN(limitKm);
  const hasMin = !Number.isNaN(roadMin) && !Number.isNaN(limitMin);
  if (!hasKm && !hasMin) {
    settle(out, FITS, NOT_STATED_VALUE);
    return null;
  }
  const kmRank = hasKm ? sideRank(roadKm, limitKm, drive.isKmEstimated, limits) : -1;
  const minRank = hasMin ? sideRank(roadMin, limitMin, drive.isMinEstimated, limits) : -1;
  const isKm = kmRank > minRank || (kmRank === minRank && roadKm * limitMin >= roadMin * limitKm);
  const demand = isKm ? roadKm : roadMin;
  const rank = isKm ? kmRank : minRank;
  const ratio = demand === 0 ? 0 : demand / (isKm ? limitKm : limitMin);
  settle(out, rank, rank <= STRETCH && Number.isFinite(ratio) ? curve(ratio) : LEAST_VALUE);
  return isKm ? 'km' : 'min';
}

/** The drive to the trailhead against the cohort's limits; an estimate rules out only far beyond them. */
export const drive: Criterion = {
  name: 'drive',
  judge: ({ approach, cohort, design, units }): Judgement => {
    const { roadKm, roadMin, kmEstimated, minEstimated } = approach;
    const limitKm = cohort.driveLimit?.km ?? null;
    const limitMin = cohort.driveLimit?.minutes ?? null;
    const base = { name: 'drive' as const, demand: roadKm, capacity: limitKm, unit: 'km', headroom: null };
    const open = { ...base, value: NOT_STATED_VALUE, verdict: 'fits' as const };
    if (roadKm === null && roadMin === null) {
      const toCheck = 'the drive: neither the meeting place nor the road distance is stated';
      return { ...open, reason: 'the drive is not known', toCheck };
    }
    // Both stated: said once, behind the minutes.
    const isStated = roadMin !== null && !minEstimated;
    const km =
      roadKm === null
        ? null
        : `${lengthText(roadKm * 1000, units)} by road${kmEstimated ? ' (estimated from the straight line)' : isStated ? '' : STATED}`;
    const min =
      roadMin === null ? null : `about ${durationText(roadMin)}${minEstimated ? ' (estimated)' : STATED}`;
    // Nobody drives that far to a trailhead: the meeting place is wrong, most likely swapped.
    const isAbsurd = kmEstimated && roadKm !== null && roadKm > ABSURD_KM;
    const text =
      [km, min].filter((part) => part !== null).join(', ') +
      (isAbsurd ? ' (check the meeting place: are latitude and longitude swapped?)' : '');
    if (limitKm === null && limitMin === null) {
      return { ...open, reason: text, toCheck: 'how far the group may drive' };
    }
    const figures = {
      roadKm: roadKm ?? Number.NaN,
      roadMin: roadMin ?? Number.NaN,
      isKmEstimated: kmEstimated,
      isMinEstimated: minEstimated,
      limitKm: limitKm ?? Number.NaN,
      limitMin: limitMin ?? Number.NaN,
    };
    const out = newOutcome();
    const unit = driveOutcome(figures, design.limits, ratioCurve(design.limits.driveStretch), out);
    if (unit === null) {
      return { ...open, reason: text, toCheck: 'the drive against its limit: state the road distance' };
    }
    const isKm = unit === 'km';
    const demand = isKm ? figures.roadKm : figures.roadMin;
    const capacity = isKm ? figures.limitKm : figures.limitMin;
    const limitText = isKm ? lengthText(capacity * 1000, units) : durationText(capacity);
    const verdict = VERDICTS[out.rank] ?? 'ruledOut';
    const numbers = { demand, capacity, unit, headroom: headroomOf(demand, capacity) };
    const judged = { ...base, ...numbers, value: out.value, verdict };
    const beyond = `${text}, beyond the limit of ${limitText}`;
    if (verdict === 'fits') return { ...judged, reason: `${text}; the limit is ${limitText}` };
    if (verdict === 'stretch') {
      return { ...judged, reason: beyond, toCheck: 'the road distance: only estimated' };
    }
    if (verdict === 'incomplete') {
      const ask = 'state the road distance: an estimate alone does not rule it out';
      return { ...judged, value: null, reason: `${beyond}; ${ask}` };
    }
    const allowance = (isKm ? kmEstimated : minEstimated) ? ', even allowing for the estimate' : '';
    return { ...judged, reason: `${beyond}${allowance}` };
  },
};
