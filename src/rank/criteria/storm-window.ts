import type { Design } from '../../design.ts';
import { chanceText, clockOn, durationText, heightText, percentText } from '../../text/words.ts';
import { MS_PER_MIN } from '../../units.ts';
import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { missingText } from '../missing.ts';
import { FITS, NOT_YET, newOutcome, type Outcome, STRETCH, settle } from '../outcome.ts';
import { chanceValue, spareValue } from '../value.ts';

/** A share of the time expected below which a quicker day is no advice (design). */
const HURRY_SHARE = 0.85;

/**
 * Minutes between the earliest and the latest start; where they are none, the chance to be below treeline in time when
 * started at the earliest (else not looked at).
 */
export function stormOutcome(
  spareMin: number,
  probability: number,
  {
    probability: wanted,
    stretchProbability,
  }: Pick<Design['stormWindow'], 'probability' | 'stretchProbability'>,
  out: Outcome,
): void {
  if (spareMin >= 0) settle(out, FITS, spareValue(spareMin));
  else {
    const rank = probability >= stretchProbability ? STRETCH : NOT_YET;
    settle(out, rank, chanceValue(probability, wanted, stretchProbability));
  }
}

/** Whether the group can be below treeline by the deadline with the wanted probability. */
export const stormWindow: Criterion = {
  name: 'stormWindow',
  judge: ({ route, cohort, timeline, design, units }): Judgement => {
    const base = { name: 'stormWindow' as const, demand: null, capacity: null, unit: 'min', headroom: null };
    const { measures, treeline, heightsMissing } = route;
    if (timeline === null || heightsMissing) {
      return {
        ...base,
        value: null,
        verdict: 'incomplete',
        reason: missingText(route),
      };
    }
    if (measures.aboveTreelineM === null) {
      const range = measures.aboveTreelineRangeMin;
      const exposure =
        range === null
          ? ''
          : `; as it lies lower or higher, ${durationText(range.low)} to ${durationText(range.high)} of the walking is above it by the trade rule`;
      return {
        ...base,
        value: null,
        verdict: 'incomplete',
        reason: `the treeline is not known here (state its height for the route, or for the program)${exposure}`,
      };
    }
    const line =
      treeline.treelineM === null
        ? `the lowest treeline believable at this latitude, ${heightText(treeline.rangeM.low, units)}`
        : `${heightText(treeline.treelineM, units)}, ${treeline.text}`;
    const { latestStartMs, probabilityAtEarliest, deadline } = timeline.storm;
    if (latestStartMs === null || probabilityAtEarliest === null) {
      return { ...base, value: 1, verdict: 'fits', reason: `no ground above treeline (${line})` };
    }
    const { probability: wanted } = design.stormWindow;
    const spareMin = (latestStartMs - timeline.earliestStartMs) / MS_PER_MIN;
    const capacity = (deadline.atMs - timeline.earliestStartMs) / MS_PER_MIN;
    const demand = capacity - spareMin;
    const clock = (ms: number) => clockOn(ms, timeline.zone, timeline.date);
    const usual =
      deadline.setBy === 'program' ? ` (set by the program; usually ${clock(deadline.usualMs)})` : '';
    const by = `${clock(deadline.atMs)}${usual}`;
    const safe = timeline.storm.endsAbove
      ? `back at the trailhead, itself above treeline (${line}),`
      : `below treeline (${line})`;
    if (timeline.storm.endsAbove && measures.shape === 'oneWay') {
      return {
        ...base,
        value: null,
        verdict: 'incomplete',
        reason: `the line ends above treeline (${line}): draw the way down`,
      };
    }
    const latest = clock(latestStartMs);
    const earliest = clock(timeline.earliestStartMs);
    const numbers = { demand, capacity, headroom: headroomOf(demand, capacity) };
    const out = newOutcome();
    stormOutcome(spareMin, probabilityAtEarliest, design.stormWindow, out);
    if (out.rank === FITS) {
      return {
        ...base,
        ...numbers,
        value: out.value,
        verdict: 'fits',
        reason: `${safe} by ${by} with ${percentText(wanted)} probability when started by ${latest}, ${durationText(spareMin)} after the earliest start (${earliest})`,
      };
    }
    // A little earlier is advice; hours earlier, or out in the dark without lamps, is not.
    const earlier =
      -spareMin <= 60 && cohort.headlamps === true
        ? `, or an earliest start ${durationText(-spareMin)} earlier if the program allows it`
        : '';
    const share = Math.floor((100 * capacity) / demand) / 100;
    const quicker = `the way up and back below treeline in ${percentText(share)} of the time expected now`;
    const gap = {
      criterion: 'stormWindow' as const,
      need: { timeFactor: capacity > 0 ? capacity / demand : 0 },
      text:
        capacity <= 0
          ? 'an earlier start: the deadline lies before the earliest one'
          : share < HURRY_SHARE
            ? `nothing short of ${quicker}, and hurrying is no way to it: take a route with less above treeline`
            : `${quicker}, as training would have to show and hurrying does not${earlier}`,
    };
    return {
      ...base,
      ...numbers,
      value: out.value,
      verdict: out.rank === STRETCH ? 'stretch' : 'notYet',
      reason: `started at the earliest (${earliest}), the group is ${safe} by ${by} with ${chanceText(probabilityAtEarliest)} probability; for ${percentText(wanted)} that is ${durationText(-spareMin)} too late`,
      gap,
    };
  },
};
