import { clockOn, durationText } from '../../text/words.ts';
import { MS_PER_MIN } from '../../units.ts';
import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { missingText } from '../missing.ts';
import { FITS, newOutcome, type Outcome, RULED_OUT, STRETCH, settle } from '../outcome.ts';
import { LEAST_VALUE, NEAR_DUSK_VALUE, spareValue } from '../value.ts';
import { VERDICTS } from '../verdict.ts';

/** Minutes to spare before the hour that is kept before dusk; fewer than none, and none before dusk itself. */
export function daylightOutcome(spareMin: number, beforeDuskMin: number, out: Outcome): void {
  if (spareMin >= 0) settle(out, FITS, spareValue(spareMin));
  else if (spareMin + beforeDuskMin >= 0) settle(out, STRETCH, NEAR_DUSK_VALUE);
  else settle(out, RULED_OUT, LEAST_VALUE);
}

/** Whether the group is back well before dark, at its 90th percentile. */
export const daylight: Criterion = {
  name: 'daylight',
  judge: ({ timeline, route, design }): Judgement => {
    const base = { name: 'daylight' as const, demand: null, capacity: null, unit: 'min', headroom: null };
    const end = timeline?.checkpoints.find((checkpoint) => checkpoint.kind === 'end');
    if (timeline === null || end === undefined || route.heightsMissing) {
      return {
        ...base,
        value: null,
        verdict: 'incomplete',
        reason: missingText(route),
      };
    }
    if (timeline.polar === 'day') {
      return { ...base, value: 1, verdict: 'fits', reason: 'the sun does not set on this date' };
    }
    const { civilDuskMs, zone } = timeline;
    if (timeline.polar === 'night' || civilDuskMs === null) {
      return timeline.polar === 'night'
        ? { ...base, value: LEAST_VALUE, verdict: 'ruledOut', reason: 'the sun does not rise on this date' }
        : { ...base, value: 1, verdict: 'fits', reason: 'civil twilight lasts all night on this date' };
    }
    const demand = (end.at.p90Ms - timeline.startMs) / MS_PER_MIN;
    const capacity = (civilDuskMs - timeline.startMs) / MS_PER_MIN - design.daylight.beforeDuskMin;
    const spareMin = capacity - demand;
    const latestMs = civilDuskMs - design.daylight.beforeDuskMin * MS_PER_MIN;
    const back = clockOn(end.at.p90Ms, zone, timeline.date);
    const dusk = clockOn(civilDuskMs, zone, timeline.date);
    const numbers = { demand, capacity, headroom: headroomOf(demand, capacity) };
    const out = newOutcome();
    daylightOutcome(spareMin, design.daylight.beforeDuskMin, out);
    if (out.rank === FITS) {
      return {
        ...base,
        ...numbers,
        value: out.value,
        verdict: 'fits',
        reason: `back by ${back} nine times in ten; civil dusk is ${dusk}`,
      };
    }
    return {
      ...base,
      ...numbers,
      value: out.value,
      verdict: VERDICTS[out.rank] ?? 'ruledOut',
      reason: `the slowest day in ten ends at ${back}; it should end by ${clockOn(latestMs, zone, timeline.date)}, ${durationText(design.daylight.beforeDuskMin)} before civil dusk (${dusk})`,
    };
  },
};
