import type { Milestone } from '../capability/milestones.ts';
import type { SlowingFactors } from '../day/arrivals.ts';
import type { RuleTime } from '../day/rules-beside.ts';
import type { Moment, Timeline } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import { rfc3339 } from '../earth/local-time.ts';
import type { WordedNote } from '../notes.ts';
import type { OrderCertainty } from '../rank/certainty.ts';
import type { Gap, Judgement } from '../rank/criterion.ts';
import type { Fit } from '../rank/fit.ts';
import type { DayWalk, LeastOuting } from '../rank/least-outing.ts';
import type { CohortRecord } from '../rank/readiness.ts';
import { scoreParts } from '../rank/score.ts';
import type { Verdict } from '../rank/verdict.ts';
import { attributionOf } from '../route/attribution.ts';
import type { RouteMeasures } from '../route/describe-route.ts';
import type { Band } from '../route/gain.ts';
import type { SteepGround } from '../route/steep-ground.ts';
import { CAUTIONS, MEANING_OF_FITS } from '../text/cautions.ts';
import { DISTANCE_METHOD, gainMethodText } from '../text/measure-words.ts';
import { notesView } from '../text/notes.ts';

/** Version of the methods whose results are shown: changes when a figure would. */
export const METHOD_VERSION = '3';

interface MomentText {
  readonly p10: string;
  readonly p50: string;
  readonly p90: string;
}

export interface DayView {
  readonly zone: string;
  readonly start: string;
  readonly earliestStart: string;
  readonly latestStart: string | null;
  readonly deadline: string;
  /** The project’s own deadline, where a program set another. */
  readonly usualDeadline: string;
  readonly probabilityBelowTreelineByDeadline: number | null;
  readonly aboveTreeline: MomentText | null;
  readonly summit: MomentText | null;
  readonly belowTreeline: MomentText | null;
  readonly trailhead: MomentText | null;
  /** Moving time, stops and meals not counted: this group’s middle, and published rules beside it. */
  readonly movingMin: number;
  readonly slowing: SlowingFactors;
  readonly rules: readonly RuleTime[];
  readonly civilDawn: string | null;
  readonly civilDusk: string | null;
}

/** A judgement as it is sent: its gap and what to check stand with the route. */
export type CriterionView = Omit<Judgement, 'gap' | 'toCheck'> & {
  /** Its weight, and what the score is multiplied by for it: the factors' product is the score. */
  readonly weight: number;
  readonly factor: number;
};

export interface ShortlistEntry {
  /** `null` for a route judged alone. */
  readonly rank: number | null;
  /** Where the routes are kept in the store. */
  readonly id?: string;
  readonly name: string;
  readonly verdict: Verdict;
  readonly score: number;
  /** Share of the draws in which it comes first; `null` where it was not drawn: a route judged alone, incomplete, ruled out or far down. */
  readonly firstShare: number | null;
  /** The places that it takes nine times in ten, its own among them; `null` as above. */
  readonly rankLow: number | null;
  readonly rankHigh: number | null;
  readonly measures: MeasuresView;
  readonly criteria: readonly CriterionView[];
  readonly day: DayView | null;
  readonly gap: readonly Gap[];
  /** `null` where no outing changes the verdict. */
  readonly leastOuting: LeastOuting | null;
  readonly milestones: readonly Milestone[];
  readonly toCheck: readonly string[];
  readonly notes: readonly WordedNote[];
  /** Words that the elevation tiles ask for on whatever is made from them. */
  readonly attribution: readonly string[];
}

export interface Shortlist {
  readonly cohort: { readonly name: string };
  readonly date: string;
  readonly method: { readonly version: string; readonly settings: string };
  readonly meaning: string;
  readonly cautions: readonly string[];
  /** How sure the order of the whole list is; `null` for a route judged alone. */
  readonly order: (Omit<OrderCertainty, 'trials'> & { readonly draws: number }) | null;
  readonly routes: readonly ShortlistEntry[];
  /** Words that the tiles under these routes and under the cohort's recorded days ask for. */
  readonly attribution: readonly string[];
}

export const places = (value: number, decimals: number): number => {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale;
};

function roundedBand(band: Band | null): Band | null {
  if (band === null) return null;
  return { value: places(band.value, 1), low: places(band.low, 1), high: places(band.high, 1) };
}

const orNull = (value: number | null, decimals: number): number | null =>
  value === null ? null : places(value, decimals);

function roundedSteep(ground: SteepGround | null): SteepGround | null {
  if (ground === null) return null;
  return {
    ...ground,
    stretches: ground.stretches.map(({ fromM, toM, onDeg, besideDeg, aboveDeg }) => ({
      fromM: places(fromM, 1),
      toM: places(toM, 1),
      onDeg: orNull(onDeg, 1),
      besideDeg: orNull(besideDeg, 1),
      aboveDeg: orNull(aboveDeg, 1),
    })),
    steepest50Deg: orNull(ground.steepest50Deg, 1),
    steepest50AtM: orNull(ground.steepest50AtM, 1),
    knownShare: Math.floor(ground.knownShare * 1e4) / 1e4,
  };
}

/** A route's measures with their methods in words. */
type MeasuresView = Omit<RouteMeasures, 'gainMethod'> & {
  readonly distanceMethod: string;
  readonly gainMethod: string;
};

/** Measures as they are sent: metres and minutes to a tenth, shares to four places. */
export function roundedMeasures(measures: RouteMeasures): MeasuresView {
  const range = (interval: RouteMeasures['aboveTreelineRangeM']) =>
    interval === null ? null : { low: places(interval.low, 1), high: places(interval.high, 1) };
  const { gainMethod, ...figures } = measures;
  return {
    ...figures,
    distanceM: places(measures.distanceM, 1),
    gainM: roundedBand(measures.gainM),
    lossM: roundedBand(measures.lossM),
    highM: orNull(measures.highM, 1),
    lowM: orNull(measures.lowM, 1),
    aboveTreelineM: orNull(measures.aboveTreelineM, 1),
    aboveTreelineMin: orNull(measures.aboveTreelineMin, 1),
    aboveTreelineRangeM: range(measures.aboveTreelineRangeM),
    aboveTreelineRangeMin: range(measures.aboveTreelineRangeMin),
    steepestSustainedRatio: orNull(measures.steepestSustainedRatio, 4),
    // What a route measured by an earlier version lacks is not known until it is measured again.
    steepestSustainedFromM: orNull(measures.steepestSustainedFromM ?? null, 1),
    steepGround: roundedSteep(measures.steepGround ?? null),
    recorded:
      measures.recorded == null
        ? null
        : { gainM: places(measures.recorded.gainM, 1), lossM: places(measures.recorded.lossM, 1) },
    // Rounded down: a line with a hole in it is never shown as fully covered.
    demCoverage: Math.floor(measures.demCoverage * 1e4) / 1e4,
    distanceMethod: DISTANCE_METHOD,
    gainMethod: gainMethodText(gainMethod, 'metric'),
  };
}

/** The day as it is sent: RFC 3339 with the offset of the place. */
export function dayView(timeline: Timeline): DayView {
  const { zone, storm } = timeline;
  const text = (ms: number) => rfc3339(ms, zone);
  const textOrNull = (ms: number | null) => (ms === null ? null : text(ms));
  const moment = (at: Moment | undefined) =>
    at === undefined ? null : { p10: text(at.p10Ms), p50: text(at.p50Ms), p90: text(at.p90Ms) };
  const of = (kind: string) =>
    moment(timeline.checkpoints.find((checkpoint) => checkpoint.kind === kind)?.at);
  return {
    zone,
    start: text(timeline.startMs),
    earliestStart: text(timeline.earliestStartMs),
    latestStart: textOrNull(storm.latestStartMs),
    deadline: text(storm.deadline.atMs),
    usualDeadline: text(storm.deadline.usualMs),
    probabilityBelowTreelineByDeadline: orNull(storm.probability, 4),
    aboveTreeline: of('treelineUp'),
    summit: of('high'),
    belowTreeline: of('treelineDown'),
    trailhead: of('end'),
    movingMin: places(timeline.movingMin, 0),
    slowing: {
      ground: places(timeline.slowing.ground, 3),
      altitude: places(timeline.slowing.altitude, 3),
    },
    rules: timeline.rules.map((rule) => ({ ...rule, movingMin: places(rule.movingMin, 0) })),
    civilDawn: textOrNull(timeline.civilDawnMs),
    civilDusk: textOrNull(timeline.civilDuskMs),
  };
}

/** A need is rounded up to a tenth (a share of time down): what is sent is never too little. */
function roundedGap(gap: Gap): Gap {
  const need = Object.entries(gap.need).map(([name, value]) => {
    if (typeof value === 'string') return [name, value];
    return [name, name === 'timeFactor' ? Math.floor(value * 1000) / 1000 : Math.ceil(value * 10) / 10];
  });
  return { ...gap, need: Object.fromEntries(need) };
}

/** Rounded up to a tenth, as a need is. */
function roundedOuting(outing: LeastOuting): LeastOuting {
  const up = ({ distanceM, gainM }: DayWalk) => ({
    distanceM: Math.ceil(distanceM * 10) / 10,
    gainM: Math.ceil(gainM * 10) / 10,
  });
  return { ...outing, ...up(outing), steps: outing.steps.map(up) };
}

export function entryView(fit: Fit, weights: Design['weights']): ShortlistEntry {
  const parts = scoreParts(fit.judgements, weights);
  return {
    rank: fit.rank,
    name: fit.route.name,
    verdict: fit.verdict,
    score: places(fit.score, 4),
    firstShare: orNull(fit.certainty?.firstShare ?? null, 4),
    rankLow: fit.certainty?.rankLow ?? null,
    rankHigh: fit.certainty?.rankHigh ?? null,
    measures: roundedMeasures(fit.route.measures),
    criteria: fit.judgements.map((judgement, i) => ({
      name: judgement.name,
      demand: orNull(judgement.demand, 3),
      capacity: orNull(judgement.capacity, 3),
      unit: judgement.unit,
      headroom: orNull(judgement.headroom, 4),
      value: orNull(judgement.value, 4),
      verdict: judgement.verdict,
      weight: parts[i]?.weight ?? 0,
      factor: places(parts[i]?.factor ?? 0, 4),
      reason: judgement.reason,
    })),
    day: fit.timeline === null ? null : dayView(fit.timeline),
    gap: fit.gap.map(roundedGap),
    leastOuting: fit.leastOuting === null ? null : roundedOuting(fit.leastOuting),
    milestones: fit.milestones,
    toCheck: fit.toCheck,
    notes: notesView(fit.route.notes),
    attribution: attributionOf([fit.route]),
  };
}

/** The shortlist as programs read it. */
export function shortlistView(
  { cohort, outings }: CohortRecord,
  date: string,
  ranked: readonly Fit[],
  design: Design,
): Shortlist {
  const order = ranked[0]?.certainty?.order ?? null;
  return {
    cohort: { name: cohort.name },
    date,
    method: { version: METHOD_VERSION, settings: design.version },
    meaning: MEANING_OF_FITS,
    cautions: CAUTIONS,
    order:
      order === null ? null : { draws: order.trials, clearWinner: order.clearWinner, level: order.level },
    routes: ranked.map((fit) => entryView(fit, design.weights)),
    attribution: attributionOf([...ranked.map(({ route }) => route), ...outings]),
  };
}
