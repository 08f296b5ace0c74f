import { effortKj } from '../capability/effort.ts';
import { type PaceModel, quantileMin } from '../capability/pace-model.ts';
import type { AgeBand, Design } from '../design.ts';
import { aimOutcome } from './criteria/aim.ts';
import { daylightOutcome } from './criteria/daylight.ts';
import { stormOutcome } from './criteria/storm-window.ts';
import { CRITERION_NAMES, type CriterionName } from './criterion.ts';
import { FITS, NOT_YET, newOutcome, type Outcome, RULED_OUT } from './outcome.ts';
import type { DayFigures, RouteFigures } from './route-figures.ts';
import { stretchLimit, trainedOutcome } from './trainable.ts';
import { LEAST_VALUE, ratioCurve } from './value.ts';

/** What one draw changes, as factors on what the ranking used: all 1 is the ranking itself. */
export interface Shift {
  /** On every time of the group. */
  time: number;
  /** On what was shown of distance, gain and work. */
  shown: number;
  /** On the route's gain, with its upper end. */
  gain: number;
}

type Redraw = (shift: Shift, out: Outcome) => void;

/** What redrawing needs of the cohort, the same for all routes. */
export interface RedrawContext {
  readonly ageBand: AgeBand;
  readonly pace: PaceModel;
  /** Whether the leader chose a start. */
  readonly isStartChosen: boolean;
  readonly aim: keyof Design['aim'];
  readonly design: Design;
  /** The Student-t distribution of the pace, as `chanceOf` gives it. */
  readonly chance: (deviate: number) => number;
}

/** The route's work as its gain moves, relative to the work ranked: straight lines (the work is near linear in gain). */
function workFactor({ walk }: RouteFigures, { ageBand, design }: RedrawContext): (gain: number) => number {
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
  { walk }: RouteFigures,
  { startMin, usualStartMin, window, isWindowOpen, light }: DayFigures,
  { pace, design, isStartChosen, chance }: RedrawContext,
): Partial<Record<CriterionName, Redraw>> {
  // More gain takes longer at the group's rate of climbing; both ends of the day come after the climb.
  const climbMin = (pace.posterior.mean[1] ?? 0) * walk.upM * (1 + pace.stopsMinPerHour / 60);
  const taken = (base: number, shift: Shift) => (base + climbMin * (shift.gain - 1)) * shift.time;
  const redraws: Partial<Record<CriterionName, Redraw>> = {};
  const wantedMin = window === null ? 0 : window.byMin - window.latestMin;

  if (window !== null) {
    const { byMin, exitMin } = window;
    const { degreesOfFreedom } = pace.posterior;
    const deviate90 = quantileMin({ meanMin: 0, scaleMin: 1, degreesOfFreedom }, 0.9);
    const scaleMin = Math.max(1e-9, (exitMin.p90 - exitMin.p50) / deviate90);
    redraws.stormWindow = (shift, out) => {
      const spareMin = byMin - taken(wantedMin, shift);
      const moreMin = climbMin * (shift.gain - 1);
      const probability =
        spareMin >= 0 ? Number.NaN : chance((byMin / shift.time - moreMin - exitMin.p50) / scaleMin);
      stormOutcome(spareMin, probability, design.stormWindow, out);
    };
  }

  if (light !== null) {
    const { endMin, backByMin } = light;
    const { beforeDuskMin } = design.daylight;
    const stepMin = design.day.roundStartMin;
    /** As the day is planned: the latest round start that keeps every limit, not before the earliest. */
    const startOf = (shift: Shift, lateMin: number): number => {
      if (isStartChosen) return startMin;
      if (isWindowOpen) return 0;
      const limit = window === null ? usualStartMin : window.byMin - taken(wantedMin, shift);
      const bound = Math.min(usualStartMin, backByMin - lateMin, limit);
      return Math.max(0, Math.floor(bound / stepMin) * stepMin);
    };
    redraws.daylight = (shift, out) => {
      const lateMin = taken(endMin, shift);
      daylightOutcome(backByMin - startOf(shift, lateMin) - lateMin, beforeDuskMin, out);
      // A slower draw alone rules nothing out: it puts the route among those that are not yet.
      if (out.rank === RULED_OUT) out.rank = NOT_YET;
    };
  }
  return redraws;
}

/** The criteria of one route that a draw moves; the others keep what they are. */
function redrawsOf(
  figures: RouteFigures,
  context: RedrawContext,
): Readonly<Partial<Record<CriterionName, Redraw>>> {
  const limit = stretchLimit(context);
  const curve = ratioCurve(limit);
  const work = workFactor(figures, context);
  const trained = (ratio: number | null, factor: (gain: number) => number): Redraw | undefined =>
    ratio === null
      ? undefined
      : (shift, out) => trainedOutcome((ratio * factor(shift.gain)) / shift.shown, limit, curve, out);
  const { distance, gain, effort } = figures.ratios;
  const target = context.design.aim[context.aim];
  const found: Partial<Record<CriterionName, Redraw | undefined>> = {
    distance: trained(distance, () => 1),
    gain: trained(gain, (factor) => factor),
    effort: trained(effort, work),
    aim:
      effort === null
        ? undefined
        : (shift, out) => aimOutcome((effort * work(shift.gain)) / shift.shown, target, out),
    ...(figures.day === null ? {} : dayRedraws(figures, figures.day, context)),
  };
  return Object.fromEntries(Object.entries(found).filter(([, redraw]) => redraw !== undefined));
}

/** One route under a draw: puts the logarithm of each criterion's value into `logs`, and returns its verdict's rank. */
export type RedrawnRoute = (shift: Shift, logs: Float64Array) => number;

const logOf = (value: number): number => Math.log(Math.max(LEAST_VALUE, value));

/**
 * A route as the draws see it. Distance, gain, work, storms, daylight and aim are set anew from its figures; the day is
 * not walked again. What is ruled out or incomplete stays so.
 */
export function redrawnRoute(figures: RouteFigures, context: RedrawContext): RedrawnRoute {
  const redraws = redrawsOf(figures, context);
  const fixedLogs = figures.values.map(logOf);
  let fixedRank = FITS;
  const moving: { readonly index: number; readonly redraw: Redraw }[] = [];
  CRITERION_NAMES.forEach((name, index) => {
    const redraw = redraws[name];
    if (redraw === undefined) fixedRank = Math.max(fixedRank, figures.ranks[index] ?? FITS);
    else moving.push({ index, redraw });
  });
  const out = newOutcome();
  return (shift, logs) => {
    logs.set(fixedLogs);
    let rank = fixedRank;
    for (const { index, redraw } of moving) {
      redraw(shift, out);
      logs[index] = logOf(out.value);
      rank = Math.max(rank, out.rank);
    }
    return figures.rank > NOT_YET ? figures.rank : rank;
  };
}
