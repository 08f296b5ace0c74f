import { MS_PER_MIN } from '../../units.ts';
import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { LEAST_VALUE, piecewise } from '../value.ts';
import { clockOn, durationText, heightText, percentText } from '../words.ts';

/** Whether the group can be below treeline by the deadline with the wanted probability. */
export const stormWindow: Criterion = {
  name: 'stormWindow',
  judge: ({ route, timeline, design, units }): Judgement => {
    const base = { name: 'stormWindow' as const, demand: null, capacity: null, unit: 'min', headroom: null };
    const { measures, treeline, heightsMissing } = route;
    if (timeline === null || heightsMissing) {
      return {
        ...base,
        value: null,
        verdict: 'incomplete',
        reason: 'heights are missing under the line: add elevation tiles for its area',
      };
    }
    if (measures.aboveTreelineM === null) {
      const range = measures.aboveTreelineRangeMin;
      const exposure =
        range === null
          ? ''
          : `; by the trade rule between ${durationText(range.low)} and ${durationText(range.high)} may lie above it`;
      return {
        ...base,
        value: null,
        verdict: 'incomplete',
        reason: `treeline is not known here: state treelineM for the route or a treeline for the program${exposure}`,
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
    const { probability: wanted, stretchProbability } = design.stormWindow;
    const spareMin = (latestStartMs - timeline.earliestStartMs) / MS_PER_MIN;
    const capacity = (deadline.atMs - timeline.earliestStartMs) / MS_PER_MIN;
    const demand = capacity - spareMin;
    const clock = (ms: number) => clockOn(ms, timeline.zone, timeline.date);
    const by = clock(deadline.atMs);
    const latest = clock(latestStartMs);
    const earliest = clock(timeline.earliestStartMs);
    const numbers = { demand, capacity, headroom: headroomOf(demand, capacity) };
    if (spareMin >= 0) {
      return {
        ...base,
        ...numbers,
        value: piecewise(spareMin, [
          [0, 0.6],
          [120, 1],
        ]),
        verdict: 'fits',
        reason: `below treeline (${line}) by ${by} with ${percentText(wanted)} probability when started by ${latest}; the earliest start is ${earliest}`,
      };
    }
    const fits = probabilityAtEarliest >= stretchProbability;
    const gap = {
      criterion: 'stormWindow' as const,
      need: { timeFactor: capacity > 0 ? capacity / demand : 0 },
      text:
        capacity > 0
          ? `the way to treeline and back in ${percentText(capacity / demand)} of the time expected now, or a start ${durationText(-spareMin)} earlier`
          : 'an earlier start: the deadline lies before the earliest one',
    };
    return {
      ...base,
      ...numbers,
      value: fits
        ? piecewise(probabilityAtEarliest, [
            [stretchProbability, 0.2],
            [wanted, 0.6],
          ])
        : piecewise(probabilityAtEarliest, [
            [0, LEAST_VALUE],
            [stretchProbability, 0.15],
          ]),
      verdict: fits ? 'stretch' : 'notYet',
      reason: `started at the earliest (${earliest}), the group is below treeline (${line}) by ${by} with ${percentText(probabilityAtEarliest)} probability; ${percentText(wanted)} would need ${durationText(-spareMin)} more`,
      gap,
    };
  },
};
