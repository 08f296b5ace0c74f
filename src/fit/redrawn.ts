import { effortKj } from '../capability/effort.ts';
import { type PaceModel, probabilityWithin, quantileMin } from '../capability/pace-model.ts';
import { totalQuantities } from '../capability/quantities.ts';
import type { Timeline } from '../day/walk-day.ts';
import type { AgeBand, Design } from '../design.ts';
import { localTimeMs } from '../earth/local-time.ts';
import { MS_PER_MIN } from '../units.ts';
import type { CriterionName } from './criterion.ts';
import type { Fit } from './rank-routes.ts';
import { stretchLimit } from './trainable.ts';
import { aimValue, chanceValue, LEAST_VALUE, NEAR_DUSK_VALUE, ratioCurve, spareValue } from './value.ts';
import { verdictRank, worst } from './verdict.ts';

/** What one draw changes, as factors on what the ranking used: all 1 is the ranking itself. */
export interface Shift {
  /** On every time of the group. */
  time: number;
  /** On what was shown of distance, gain and work. */
  shown: number;
  /** On the route's gain, with its upper end. */
  gain: number;
}

/** One criterion under a draw: its value and the rank of its verdict. */
interface Outcome {
  value: number;
  rank: number;
}

type Redraw = (shift: Shift, out: Outcome) => void;

/** What redrawing needs of the cohort, the same for all routes. */
export interface RedrawContext {
  readonly ageBand: AgeBand;
  readonly pace: PaceModel;
  /** A start that the leader chose, `HH:MM`; `null`: the one worked out. */
  readonly chosenStart: string | null;
  readonly aim: keyof Design['aim'];
  readonly design: Design;
  /** The Student-t distribution of the pace, as `chanceTable` gives it. */
  readonly chance: (deviate: number) => number;
}

const FITS = verdictRank('fits');
const STRETCH = verdictRank('stretch');
const NOT_YET = verdictRank('notYet');

const TABLE_REACH = 8;
const TABLE_STEPS_EACH = 50;

/** The Student-t distribution as a table with straight lines between: off by less than 0.0001 (tested). */
export function chanceTable(degreesOfFreedom: number): (deviate: number) => number {
  const standard = { meanMin: 0, scaleMin: 1, degreesOfFreedom };
  const table = Float64Array.from({ length: 2 * TABLE_REACH * TABLE_STEPS_EACH + 1 }, (_, i) =>
    probabilityWithin(standard, i / TABLE_STEPS_EACH - TABLE_REACH),
  );
  return (deviate) => {
    const at = (deviate + TABLE_REACH) * TABLE_STEPS_EACH;
    if (at <= 0) return 0;
    if (at >= table.length - 1) return 1;
    const low = Math.floor(at);
    const before = table[low] ?? 0;
    return before + ((table[low + 1] ?? 1) - before) * (at - low);
  };
}

/** The route's work as its gain moves, relative to the work ranked: straight lines (the work is near linear in gain). */
function workFactor(fit: Fit, { ageBand, design }: RedrawContext): (gain: number) => number {
  const walk = totalQuantities(fit.route.pieces);
  const workAt = (gain: number) =>
    effortKj({ ...walk, upM: walk.upM * gain, downM: walk.downM * gain }, ageBand, design);
  const work = workAt(1);
  if (work <= 0) return () => 1;
  const more = (workAt(1.1) / work - 1) / 0.1;
  const less = (1 - workAt(0.9) / work) / 0.1;
  return (gain) => 1 + (gain - 1) * (gain > 1 ? more : less);
}

/** Times of the day in minutes from the earliest start, and what the two criteria of time make of them. */
function dayRedraws(
  fit: Fit,
  timeline: Timeline,
  context: RedrawContext,
): Partial<Record<CriterionName, Redraw>> {
  const { pace, design, chosenStart, chance } = context;
  const { storm, earliestStartMs, startMs, civilDuskMs, zone, date } = timeline;
  const minutes = (ms: number) => (ms - earliestStartMs) / MS_PER_MIN;
  const judged = (name: CriterionName) => fit.judgements.find((judgement) => judgement.name === name);
  const afterStart = (kind: string) => {
    const at = timeline.checkpoints.find((checkpoint) => checkpoint.kind === kind)?.at;
    return at === undefined
      ? null
      : { p50: (at.p50Ms - startMs) / MS_PER_MIN, p90: (at.p90Ms - startMs) / MS_PER_MIN };
  };

  // More gain takes longer at the group's rate of climbing; both ends of the day come after the climb.
  const climbMin =
    (pace.posterior.mean[1] ?? 0) * totalQuantities(fit.route.pieces).upM * (1 + pace.stopsMinPerHour / 60);
  const taken = (base: number, shift: Shift) => (base + climbMin * (shift.gain - 1)) * shift.time;

  const exit = afterStart('treelineDown');
  const end = afterStart('end');
  const byMin = minutes(storm.deadline.atMs);
  const { latestStartMs } = storm;
  const isStormOpen = judged('stormWindow')?.verdict === 'incomplete';
  const hasWindow = latestStartMs !== null && exit !== null && !isStormOpen;
  const wantedMin = latestStartMs === null ? 0 : byMin - minutes(latestStartMs);
  const redraws: Partial<Record<CriterionName, Redraw>> = {};

  if (hasWindow) {
    const { probability: wanted, stretchProbability } = design.stormWindow;
    const { degreesOfFreedom } = pace.posterior;
    const deviate90 = quantileMin({ meanMin: 0, scaleMin: 1, degreesOfFreedom }, 0.9);
    const scaleMin = Math.max(1e-9, (exit.p90 - exit.p50) / deviate90);
    redraws.stormWindow = (shift, out) => {
      const spareMin = byMin - taken(wantedMin, shift);
      if (spareMin >= 0) {
        out.value = spareValue(spareMin);
        out.rank = FITS;
        return;
      }
      const moreMin = climbMin * (shift.gain - 1);
      const probability = chance((byMin / shift.time - moreMin - exit.p50) / scaleMin);
      out.value = chanceValue(probability, wanted, stretchProbability);
      out.rank = probability >= stretchProbability ? STRETCH : NOT_YET;
    };
  }

  if (end !== null && civilDuskMs !== null && judged('daylight')?.demand != null) {
    const { beforeDuskMin } = design.daylight;
    const stepMin = design.day.roundStartMin;
    const backByMin = minutes(civilDuskMs) - beforeDuskMin;
    const usualMin = minutes(localTimeMs(date, design.day.usualStart, zone));
    /** As `walkDay` chooses the start: the latest round time that keeps every limit, not before the earliest. */
    const startOf = (shift: Shift, endMin: number): number => {
      if (chosenStart !== null) return minutes(startMs);
      if (isStormOpen) return 0;
      const bound = Math.min(
        usualMin,
        backByMin - endMin,
        hasWindow ? byMin - taken(wantedMin, shift) : usualMin,
      );
      return Math.max(0, Math.floor(bound / stepMin) * stepMin);
    };
    redraws.daylight = (shift, out) => {
      const endMin = taken(end.p90, shift);
      const spareMin = backByMin - startOf(shift, endMin) - endMin;
      const beforeDusk = spareMin + beforeDuskMin >= 0;
      out.value = spareMin >= 0 ? spareValue(spareMin) : beforeDusk ? NEAR_DUSK_VALUE : LEAST_VALUE;
      // A slower draw alone rules nothing out: it puts the route among those that are not yet.
      out.rank = spareMin >= 0 ? FITS : beforeDusk ? STRETCH : NOT_YET;
    };
  }
  return redraws;
}

/** The criteria of one route that a draw moves; the others keep what they are. */
function redrawsOf(fit: Fit, context: RedrawContext): Partial<Record<CriterionName, Redraw>> {
  const limit = stretchLimit(context);
  const ratioValue = ratioCurve(limit);
  const judged = (name: CriterionName) => fit.judgements.find((judgement) => judgement.name === name);
  const work = workFactor(fit, context);
  const trained = (name: CriterionName, factor: (gain: number) => number): Redraw | undefined => {
    const { demand = null, capacity = null, value = null } = judged(name) ?? {};
    if (demand === null || capacity === null || value === null) return undefined;
    return (shift, out) => {
      const ratio = (demand * factor(shift.gain)) / (capacity * shift.shown);
      out.value = ratioValue(ratio);
      out.rank = ratio <= 1 ? FITS : ratio <= limit ? STRETCH : NOT_YET;
    };
  };
  const { demand: workKj = null, capacity: aimedKj = null } = judged('aim') ?? {};
  const target = context.design.aim[context.aim];
  const aim: Redraw | undefined =
    workKj === null || aimedKj === null
      ? undefined
      : (shift, out) => {
          const share = (target * workKj * work(shift.gain)) / (aimedKj * shift.shown);
          out.value = aimValue(share, target);
          out.rank = FITS;
        };
  const found: Partial<Record<CriterionName, Redraw | undefined>> = {
    distance: trained('distance', () => 1),
    gain: trained('gain', (gain) => gain),
    effort: trained('effort', work),
    aim,
    ...(fit.timeline === null ? {} : dayRedraws(fit, fit.timeline, context)),
  };
  return Object.fromEntries(Object.entries(found).filter(([, redraw]) => redraw !== undefined));
}

/** One route under a draw: puts the logarithm of each criterion's value into `logs`, and returns its verdict's rank. */
export type RedrawnRoute = (shift: Shift, logs: Float64Array) => number;

/**
 * A route as the draws see it. Distance, gain, work, storms, daylight and aim are set anew from the figures of its
 * judgements; the day is not walked again. What is ruled out or incomplete stays so.
 */
export function redrawnRoute(fit: Fit, context: RedrawContext): RedrawnRoute {
  const redraws = redrawsOf(fit, context);
  const logOf = (value: number | null) => Math.log(Math.max(LEAST_VALUE, value ?? LEAST_VALUE));
  const fixedLogs = Float64Array.from(fit.judgements, ({ value }) => logOf(value));
  const fixedRank = verdictRank(
    worst(fit.judgements.filter(({ name }) => redraws[name] === undefined).map(({ verdict }) => verdict)),
  );
  const moving = fit.judgements.flatMap(({ name }, index) => {
    const redraw = redraws[name];
    return redraw === undefined ? [] : [{ index, redraw }];
  });
  const ownRank = verdictRank(fit.verdict);
  const out: Outcome = { value: 1, rank: FITS };
  return (shift, logs) => {
    logs.set(fixedLogs);
    let rank = fixedRank;
    for (const { index, redraw } of moving) {
      redraw(shift, out);
      logs[index] = logOf(out.value);
      rank = Math.max(rank, out.rank);
    }
    return ownRank > NOT_YET ? ownRank : rank;
  };
}
