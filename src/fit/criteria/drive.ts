import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { LEAST_VALUE, ratioValue } from '../value.ts';
import { durationText, lengthText } from '../words.ts';

/** The drive to the trailhead against the cohort's limit; an estimate rules out only far beyond it. */
export const drive: Criterion = {
  name: 'drive',
  judge: ({ approach, cohort, design, units }): Judgement => {
    const limitKm = cohort.driveLimit?.km ?? null;
    const limitMin = cohort.driveLimit?.minutes ?? null;
    const base = {
      name: 'drive' as const,
      demand: approach.roadKm,
      capacity: limitKm,
      unit: 'km',
      headroom: null,
    };
    if (approach.roadKm === null && approach.roadMin === null) {
      const toCheck = 'the drive: neither the meeting place nor the road distance is stated';
      return { ...base, value: 0.9, verdict: 'fits', reason: 'the drive is not known', toCheck };
    }
    const kmText =
      approach.roadKm === null
        ? ''
        : `${lengthText(approach.roadKm * 1000, units)} by road${approach.kmEstimated ? ' (estimated from the straight line)' : ''}`;
    const minText =
      approach.roadMin === null
        ? ''
        : `about ${durationText(approach.roadMin)}${approach.minEstimated ? ' (estimated)' : ''}`;
    const text = [kmText, minText].filter((part) => part !== '').join(', ');
    if (limitKm === null && limitMin === null) {
      return { ...base, value: 0.9, verdict: 'fits', reason: text, toCheck: 'how far the group may drive' };
    }
    const byKm = limitKm !== null && approach.roadKm !== null ? approach.roadKm / limitKm : null;
    const byMin = limitMin !== null && approach.roadMin !== null ? approach.roadMin / limitMin : null;
    // The limit that binds more decides, with its own unit and its own claim to be an estimate.
    const useMinutes = byMin !== null && (byKm === null || byMin > byKm);
    const ratio = (useMinutes ? byMin : byKm) ?? null;
    if (ratio === null) {
      return {
        ...base,
        value: 0.9,
        verdict: 'fits',
        reason: text,
        toCheck: 'the drive against its limit: state the road distance',
      };
    }
    const demand = (useMinutes ? approach.roadMin : approach.roadKm) ?? 0;
    const capacity = (useMinutes ? limitMin : limitKm) ?? 0;
    const estimated = useMinutes ? approach.minEstimated : approach.kmEstimated;
    const limitText = useMinutes ? durationText(capacity) : lengthText(capacity * 1000, units);
    const { driveStretch, driveEstimateRuledOut } = design.limits;
    const judged = {
      ...base,
      demand,
      capacity,
      unit: useMinutes ? 'min' : 'km',
      headroom: headroomOf(demand, capacity),
      value: ratioValue(ratio, driveStretch),
    };
    if (ratio <= 1) return { ...judged, verdict: 'fits', reason: `${text}; the limit is ${limitText}` };
    const beyond = `${text}, beyond the limit of ${limitText}`;
    if (!estimated) return { ...judged, value: LEAST_VALUE, verdict: 'ruledOut', reason: beyond };
    if (ratio <= driveStretch) {
      return { ...judged, verdict: 'stretch', reason: beyond, toCheck: 'the road distance: only estimated' };
    }
    if (ratio <= driveEstimateRuledOut) {
      return {
        ...judged,
        value: null,
        verdict: 'incomplete',
        reason: `${beyond}; state the road distance: an estimate alone does not rule it out`,
      };
    }
    return {
      ...judged,
      value: LEAST_VALUE,
      verdict: 'ruledOut',
      reason: `${beyond}, even allowing for the estimate`,
    };
  },
};
