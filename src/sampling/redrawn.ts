import { effortKj } from '../capability/effort.ts';
import { type PaceModel, quantileMin } from '../capability/pace-model.ts';
import type { AgeBand, Design } from '../design.ts';
import { chanceOf } from '../rank/chance.ts';
import { daylightOutcome } from '../rank/criteria/daylight.ts';
import { stormOutcome } from '../rank/criteria/storm-window.ts';
import { CRITERION_NAMES } from '../rank/criterion.ts';
import { FITS, NOT_YET, newOutcome, type Outcome } from '../rank/outcome.ts';
import { stretchLimit, trainedOutcome, trainedRank } from '../rank/trainable.ts';
import {
  aimColumn,
  type ColumnCurve,
  LEAST_VALUE,
  ratioColumn,
  ratioCurve,
  spareColumn,
} from '../rank/value.ts';
import type { DayFigures, RouteFigures } from './route-figures.ts';

/** A factor in every draw, with the least and the greatest of them. */
export interface Factors {
  readonly each: Float64Array;
  readonly least: number;
  readonly greatest: number;
}

export function factorsOf(each: Float64Array): Factors {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const factor of each) {
    if (factor < least) least = factor;
    if (factor > greatest) greatest = factor;
  }
  return { each, least, greatest };
}

/** What the draws change, as factors on what the ranking used: all 1 is the ranking itself. */
export interface Shifts {
  /** On every time of the group. */
  readonly time: Factors;
  /** On what was shown of distance, gain and work. */
  readonly shown: Factors;
  /** On the route's gain, with its upper end. */
  readonly gain: Factors;
}

/** What the draws look at of a group. */
export interface DrawnGroup {
  readonly ageBand: AgeBand;
  readonly pace: PaceModel;
  /** Whether the leader chose a start. */
  readonly isStartChosen: boolean;
  readonly aim: keyof Design['aim'];
}

/** What redrawing needs of the cohort, the same for all routes. */
export interface RedrawContext extends DrawnGroup {
  readonly design: Design;
  /** The Student-t distribution of the pace, as `chanceOf` gives it. */
  readonly chance: (deviate: number) => number;
  /** How far a step may go beyond what was shown, and the values of the way there. */
  readonly stretch: {
    readonly limit: number;
    readonly curve: (ratio: number) => number;
    readonly column: ColumnCurve;
  };
}

export function redrawContextOf(group: DrawnGroup, design: Design): RedrawContext {
  const limit = stretchLimit({ ageBand: group.ageBand, design });
  return {
    ...group,
    design,
    chance: chanceOf(group.pace.posterior.degreesOfFreedom),
    stretch: { limit, curve: ratioCurve(limit), column: ratioColumn(limit) },
  };
}

/** One route in all draws, written in place and used again for the next. */
export interface Redrawn {
  /** Rank of its verdict, one entry a draw. */
  readonly ranks: Uint8Array;
  /** Logarithm of each criterion's value that is the same in all draws; `NaN`: the draws move it. */
  readonly fixedLogs: Float64Array;
  /** Logarithms of those that the draws move, a column a criterion, one entry a draw. */
  readonly logs: readonly Float64Array[];
  /** Room for what a criterion is judged by, one entry a draw. */
  readonly asked: Float64Array;
}

export const newRedrawn = (draws: number): Redrawn => ({
  ranks: new Uint8Array(draws),
  fixedLogs: new Float64Array(CRITERION_NAMES.length),
  logs: CRITERION_NAMES.map(() => new Float64Array(draws)),
  asked: new Float64Array(draws),
});

const DISTANCE = CRITERION_NAMES.indexOf('distance');
const GAIN = CRITERION_NAMES.indexOf('gain');
const EFFORT = CRITERION_NAMES.indexOf('effort');
const STORM_WINDOW = CRITERION_NAMES.indexOf('stormWindow');
const DAYLIGHT = CRITERION_NAMES.indexOf('daylight');
const AIM = CRITERION_NAMES.indexOf('aim');

const logOf = (value: number): number => (value >= 1 ? 0 : Math.log(Math.max(LEAST_VALUE, value)));

function takeLogs(values: Float64Array): void {
  for (let draw = 0; draw < values.length; draw += 1) values[draw] = logOf(values[draw] ?? 1);
}

/** A draw's verdict is that of the worst criterion. */
function worsen(ranks: Uint8Array, draw: number, rank: number): void {
  if (rank > (ranks[draw] ?? 0)) ranks[draw] = rank;
}

const columnOf = ({ logs }: Redrawn, criterion: number): Float64Array =>
  logs[criterion] ?? new Float64Array();

/**
 * Notes whether a criterion is full of itself at the most that any draw could ask, and so in all: nothing else is to be
 * worked out then.
 */
function isFull(into: Redrawn, criterion: number, { value, rank }: Outcome): boolean {
  const full = rank === FITS && value >= 1;
  into.fixedLogs[criterion] = full ? 0 : Number.NaN;
  return full;
}

/** The route's work as its gain moves, relative to the work ranked: straight lines (the work is near linear in gain). */
function workFactor(
  { walk }: RouteFigures,
  { ageBand, design }: RedrawContext,
): { readonly more: number; readonly less: number } {
  const workAt = (gain: number) =>
    effortKj({ ...walk, upM: walk.upM * gain, downM: walk.downM * gain }, ageBand, design);
  const work = workAt(1);
  if (work <= 0) return { more: 0, less: 0 };
  return { more: (workAt(1.1) / work - 1) / 0.1, less: (1 - workAt(0.9) / work) / 0.1 };
}

/** Judges a criterion that training changes by what is demanded of what was shown: `into.asked`. */
function redrawTrained(criterion: number, { stretch }: RedrawContext, into: Redrawn): void {
  const { asked, ranks } = into;
  const values = columnOf(into, criterion);
  stretch.column(asked, values);
  takeLogs(values);
  for (let draw = 0; draw < asked.length; draw += 1)
    worsen(ranks, draw, trainedRank(asked[draw] ?? 0, stretch.limit));
}

/** Whether such a criterion is full even where so much is demanded of what was shown. */
function isTrainedFull(
  criterion: number,
  ratio: number,
  { stretch: { limit, curve } }: RedrawContext,
  into: Redrawn,
): boolean {
  const out = newOutcome();
  trainedOutcome(ratio, limit, curve, out);
  return isFull(into, criterion, out);
}

function redrawDistance(ratio: number, { shown }: Shifts, context: RedrawContext, into: Redrawn): void {
  if (isTrainedFull(DISTANCE, ratio / shown.least, context, into)) return;
  const { asked } = into;
  for (let draw = 0; draw < asked.length; draw += 1) asked[draw] = ratio / (shown.each[draw] ?? 1);
  redrawTrained(DISTANCE, context, into);
}

function redrawGain(ratio: number, { shown, gain }: Shifts, context: RedrawContext, into: Redrawn): void {
  if (isTrainedFull(GAIN, (ratio * gain.greatest) / shown.least, context, into)) return;
  const { asked } = into;
  for (let draw = 0; draw < asked.length; draw += 1) {
    asked[draw] = (ratio * (gain.each[draw] ?? 1)) / (shown.each[draw] ?? 1);
  }
  redrawTrained(GAIN, context, into);
}

function redrawWork(
  ratio: number,
  { more, less }: ReturnType<typeof workFactor>,
  { shown, gain }: Shifts,
  context: RedrawContext,
  into: Redrawn,
): void {
  const { asked } = into;
  for (let draw = 0; draw < asked.length; draw += 1) {
    const climb = gain.each[draw] ?? 1;
    const work = 1 + (climb - 1) * (climb > 1 ? more : less);
    asked[draw] = (ratio * work) / (shown.each[draw] ?? 1);
  }
  const most = (ratio * (1 + Math.max(0, gain.greatest - 1) * more)) / shown.least;
  if (!isTrainedFull(EFFORT, most, context, into)) redrawTrained(EFFORT, context, into);

  // No aim rules a route out: its verdict is the same in every draw.
  const values = columnOf(into, AIM);
  into.fixedLogs[AIM] = Number.NaN;
  aimColumn(asked, context.design.aim[context.aim], values);
  takeLogs(values);
}

/** Minutes that the route's climb takes, stops counted: more gain takes longer at the group's rate of climbing. */
const climbMinOf = ({ walk }: RouteFigures, { pace }: RedrawContext): number =>
  (pace.posterior.mean[1] ?? 0) * walk.upM * (1 + pace.stopsMinPerHour / 60);

function redrawStorms(
  { byMin, latestMin, exitMin }: NonNullable<DayFigures['window']>,
  climbMin: number,
  { time, gain }: Shifts,
  { pace, design, chance }: RedrawContext,
  into: Redrawn,
): void {
  const { asked, ranks } = into;
  const wantedMin = byMin - latestMin;
  const mostMin = wantedMin + climbMin * (gain.greatest - 1);
  const out = newOutcome();
  stormOutcome(byMin - mostMin * (mostMin > 0 ? time.greatest : time.least), 0, design.stormWindow, out);
  if (isFull(into, STORM_WINDOW, out)) return;
  for (let draw = 0; draw < asked.length; draw += 1) {
    const moreMin = climbMin * ((gain.each[draw] ?? 1) - 1);
    asked[draw] = byMin - (wantedMin + moreMin) * (time.each[draw] ?? 1);
  }
  const values = columnOf(into, STORM_WINDOW);
  spareColumn(asked, values);

  const { degreesOfFreedom } = pace.posterior;
  const deviate90 = quantileMin({ meanMin: 0, scaleMin: 1, degreesOfFreedom }, 0.9);
  const scaleMin = Math.max(1e-9, (exitMin.p90 - exitMin.p50) / deviate90);
  for (let draw = 0; draw < asked.length; draw += 1) {
    const spareMin = asked[draw] ?? 0;
    if (spareMin >= 0) continue;
    const moreMin = climbMin * ((gain.each[draw] ?? 1) - 1);
    const probability = chance((byMin / (time.each[draw] ?? 1) - moreMin - exitMin.p50) / scaleMin);
    stormOutcome(spareMin, probability, design.stormWindow, out);
    values[draw] = out.value;
    worsen(ranks, draw, out.rank);
  }
  takeLogs(values);
}

function redrawDaylight(
  { startMin, usualStartMin, window, isWindowOpen }: DayFigures,
  { endMin, backByMin }: NonNullable<DayFigures['light']>,
  climbMin: number,
  { time, gain }: Shifts,
  { design, isStartChosen }: RedrawContext,
  into: Redrawn,
): void {
  const { asked, ranks } = into;
  const { beforeDuskMin } = design.daylight;
  const stepMin = design.day.roundStartMin;
  const byMin = window?.byMin ?? Number.POSITIVE_INFINITY;
  const wantedMin = window === null ? 0 : byMin - window.latestMin;
  const mostMin = endMin + climbMin * (gain.greatest - 1);
  const latestStartMin = isStartChosen ? startMin : isWindowOpen ? 0 : Math.max(0, usualStartMin);
  const out = newOutcome();
  daylightOutcome(
    backByMin - latestStartMin - mostMin * (mostMin > 0 ? time.greatest : time.least),
    beforeDuskMin,
    out,
  );
  if (isFull(into, DAYLIGHT, out)) return;
  for (let draw = 0; draw < asked.length; draw += 1) {
    const longer = time.each[draw] ?? 1;
    const moreMin = climbMin * ((gain.each[draw] ?? 1) - 1);
    const lateMin = (endMin + moreMin) * longer;
    // As the day is planned: the latest round start that keeps every limit, not before the earliest.
    let start = startMin;
    if (!isStartChosen) {
      const bound = Math.min(usualStartMin, backByMin - lateMin, byMin - (wantedMin + moreMin) * longer);
      start = isWindowOpen ? 0 : Math.max(0, Math.floor(bound / stepMin) * stepMin);
    }
    asked[draw] = backByMin - start - lateMin;
  }
  const values = columnOf(into, DAYLIGHT);
  spareColumn(asked, values);
  for (let draw = 0; draw < asked.length; draw += 1) {
    const spareMin = asked[draw] ?? 0;
    if (spareMin >= 0) continue;
    daylightOutcome(spareMin, beforeDuskMin, out);
    values[draw] = out.value;
    // A slower draw alone rules nothing out: it puts the route among those that are not yet.
    worsen(ranks, draw, Math.min(out.rank, NOT_YET));
  }
  takeLogs(values);
}

/**
 * A route as the draws see it. Distance, gain, work, storms, daylight and aim are set anew from its figures; the day is
 * not walked again; the other criteria keep what they are. What is ruled out or incomplete stays so.
 */
export function redraw(figures: RouteFigures, shifts: Shifts, context: RedrawContext, into: Redrawn): void {
  const { ratios, day } = figures;
  const window = day?.window ?? null;
  const light = day?.light ?? null;
  const moving = new Set([
    ...(ratios.distance === null ? [] : [DISTANCE]),
    ...(ratios.gain === null ? [] : [GAIN]),
    ...(ratios.effort === null ? [] : [EFFORT, AIM]),
    ...(window === null ? [] : [STORM_WINDOW]),
    ...(light === null ? [] : [DAYLIGHT]),
  ]);
  let fixedRank = FITS;
  figures.values.forEach((value, criterion) => {
    const isFixed = !moving.has(criterion);
    into.fixedLogs[criterion] = isFixed ? logOf(value) : Number.NaN;
    if (isFixed) fixedRank = Math.max(fixedRank, figures.ranks[criterion] ?? FITS);
  });
  into.ranks.fill(fixedRank);
  if (ratios.distance !== null) redrawDistance(ratios.distance, shifts, context, into);
  if (ratios.gain !== null) redrawGain(ratios.gain, shifts, context, into);
  if (ratios.effort !== null) redrawWork(ratios.effort, workFactor(figures, context), shifts, context, into);
  const climbMin = climbMinOf(figures, context);
  if (window !== null) redrawStorms(window, climbMin, shifts, context, into);
  if (day !== null && light !== null) redrawDaylight(day, light, climbMin, shifts, context, into);
  if (figures.rank > NOT_YET) into.ranks.fill(figures.rank);
}
