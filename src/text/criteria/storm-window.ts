import type { StormWindowReason } from '../../rank/criteria/storm-window.ts';
import type { Treeline } from '../../route/treeline.ts';
import type { UnitSystem } from '../../units.ts';
import { chanceText, clockOn, durationText, heightText, percentText } from '../words.ts';
import { type CriterionWords, type JudgementWords, missingText } from './words-of.ts';

/** A share of the time expected below which a quicker day is no advice (design). */
const HURRY_SHARE = 0.85;

/** A start so many minutes earlier is advice; one hours earlier is not (design). */
const LITTLE_EARLIER_MIN = 60;

const lineText = ({ treelineM, rangeM, text }: Treeline, units: UnitSystem): string =>
  treelineM === null
    ? `the lowest treeline believable at this latitude, ${heightText(rangeM.low, units)}`
    : `${heightText(treelineM, units)}, ${text}`;

type Timed = Extract<StormWindowReason, { readonly code: 'inTime' | 'tooLate' }>;

function gapText(reason: Timed, capacity: number, demand: number): string {
  if (capacity <= 0) return 'an earlier start: the deadline lies before the earliest one';
  const { spareMin, hasHeadlamps } = reason;
  const share = Math.floor((100 * capacity) / demand) / 100;
  const quicker = `the way up and back below treeline in ${percentText(share)} of the time expected now`;
  if (share < HURRY_SHARE) {
    return `nothing short of ${quicker}, and hurrying is no way to it: take a route with less above treeline`;
  }
  // Nor is one out in the dark without lamps.
  const earlier =
    -spareMin <= LITTLE_EARLIER_MIN && hasHeadlamps
      ? `, or an earliest start ${durationText(-spareMin)} earlier if the program allows it`
      : '';
  return `${quicker}, as training would have to show and hurrying does not${earlier}`;
}

/** A deadline later than the usual one, and a sun that knows no afternoon, are to be asked about. */
function deadlineToCheck({ deadline, isPolarDay }: Timed, clock: (ms: number) => string): string | null {
  const { setBy, atMs, usualMs } = deadline;
  if (setBy === 'program') {
    return atMs > usualMs
      ? `the deadline: ${clock(atMs)} is set by the program, later than the usual ${clock(usualMs)}; storms may come before it`
      : null;
  }
  return isPolarDay
    ? 'storms: the deadline at noon is a rule of the middle latitudes, and here the sun does not set; ask the forecast'
    : null;
}

function timedWords(reason: Timed, demand: number, capacity: number, units: UnitSystem): JudgementWords {
  const { treeline, deadline, wanted, spareMin, probability, zone, date } = reason;
  const clock = (ms: number) => clockOn(ms, zone, date);
  const line = lineText(treeline, units);
  const usual =
    deadline.setBy === 'program' ? ` (set by the program; usually ${clock(deadline.usualMs)})` : '';
  const by = `${clock(deadline.atMs)}${usual}`;
  const safe = reason.isTrailheadAbove
    ? `back at the trailhead, itself above treeline (${line}),`
    : `below treeline (${line})`;
  const earliest = clock(reason.earliestMs);
  const toCheck = deadlineToCheck(reason, clock);
  if (reason.code === 'inTime') {
    return {
      toCheck,
      reason: `${safe} by ${by} with ${percentText(wanted)} probability when started by ${clock(reason.latestMs)}, ${durationText(spareMin)} after the earliest start (${earliest})`,
    };
  }
  return {
    toCheck,
    reason: `started at the earliest (${earliest}), the group is ${safe} by ${by} with ${chanceText(probability)} probability; for ${percentText(wanted)} that is ${durationText(-spareMin)} too late`,
    gap: gapText(reason, capacity, demand),
  };
}

export const stormWindow: CriterionWords<'stormWindow'> = {
  question: 'storms',
  words: ({ reason, demand, capacity }, units) => {
    switch (reason.code) {
      case 'unknown':
        return { reason: missingText(reason.missing) };
      case 'noTreeline': {
        const { aboveMin } = reason;
        const exposure =
          aboveMin === null
            ? ''
            : `; as it lies lower or higher, ${durationText(aboveMin.low)} to ${durationText(aboveMin.high)} of the walking is above it by the trade rule`;
        return {
          reason: `the treeline is not known here (state its height for the route, or for the program)${exposure}`,
        };
      }
      case 'openLikely':
      case 'openHeight':
        return {
          reason: `${reason.code === 'openHeight' ? 'open ground is stated' : 'the top may be open ground (rock, burnt or grazed)'} below treeline (${lineText(reason.treeline, units)}): state from which height the way lies open${reason.code === 'openHeight' ? '' : ', or that it does not'}`,
        };
      case 'openAsked':
        return {
          reason: `no ground above treeline (${lineText(reason.treeline, units)})`,
          toCheck: 'the top: in forest, or open (rock, burnt or grazed)?',
        };
      case 'noneAbove':
        return { reason: `no ground above treeline (${lineText(reason.treeline, units)})` };
      case 'endsAbove':
        return {
          reason: `the line ends above treeline (${lineText(reason.treeline, units)}): draw the way down`,
        };
      default:
        return timedWords(reason, demand ?? 0, capacity ?? 0, units);
    }
  },
};
