import { effortKj } from '../capability/effort.ts';
import { type PaceModel, quantileMin } from '../capability/pace-model.ts';
import type { AgeBand, Design } from '../design.ts';
import { aimOutcome } from './criteria/aim.ts';
import { daylightOutcome } from './criteria/daylight.ts';
import { stormOutcome } from './criteria/storm-window.ts';
import { CRITERION_NAMES } from './criterion.ts';
import { FITS, NOT_YET, newOutcome, type Outcome, RULED_OUT } from './outcome.ts';
import type { DayFigures, RouteFigures } from './route-figures.ts';
import { stretchLimit, trainedOutcome } from './trainable.ts';
import { LEAST_VALUE, ratioCurve } from './value.ts';

/** What the draws change, one entry a draw, as factors on what the ranking used: all 1 is the ranking itself. */
export interface Shifts {
  /** On every time of the group. */
  readonly time: Float64Array;
  /** On what was shown of distance, gain and work. */
  readonly shown: Float64Array;
  /** On the route's gain, with its upper end. */
  readonly gain: Float64Array;
}

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

const columnOf = ({ logs }: Redrawn, criterion: number): Float64Array =>
  logs[criterion] ?? new Float64Array();

/**
 * Notes whether a criterion is full of itself in the draw that asks most, and so in all: nothing else is to be worked
 * out then.
 */
function isFull(into: Redrawn, criterion: number, { value, rank }: Outcome): boolean {
  const full = rank === FITS && value >= 1;
  into.fixedLogs[criterion] = full ? 0 : Number.NaN;
  return full;
}

/** Notes what a draw makes of a criterion; its value becomes a logarithm at the end. */
function note(values: Float64Array, ranks: Uint8Array, draw: number, { value, rank }: Outcome): void {
  values[draw] = value;
  if (rank > (ranks[draw] ?? 0)) ranks[draw] = rank;
}

function takeLogs(values: Float64Array): void {
  for (let draw = 0; draw < values.length; draw += 1) values[draw] = logOf(values[draw] ?? 1);
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

/** Judges a criterion that training changes by what is demanded of what was shown: `into.asked`, at most `greatest`. */
function redrawTrained(criterion: number, greatest: number, context: RedrawContext, into: Redrawn): void {
  const { asked, ranks } = into;
  const values = columnOf(into, criterion);
  const limit = stretchLimit(context);
  const curve = ratioCurve(limit);
  const out = newOutcome();
  trainedOutcome(greatest, limit, curve, out);
  if (isFull(into, criterion, out)) return;
  for (let draw = 0; draw < asked.length; draw += 1) {
    trainedOutcome(asked[draw] ?? 0, limit, curve, out);
    note(values, ranks, draw, out);
  }
}

function redrawDistance(ratio: number, { shown }: Shifts, context: RedrawContext, into: Redrawn): void {
  const { asked } = into;
  let greatest = 0;
  for (let draw = 0; draw < asked.length; draw += 1) {
    const share = ratio / (shown[draw] ?? 1);
    asked[draw] = share;
    if (share > greatest) greatest = share;
  }
  redrawTrained(DISTANCE, greatest, context, into);
}

function redrawGain(ratio: number, { shown, gain }: Shifts, context: RedrawContext, into: Redrawn): void {
  const { asked } = into;
  let greatest = 0;
  for (let draw = 0; draw < asked.length; draw += 1) {
    const share = (ratio * (gain[draw] ?? 1)) / (shown[draw] ?? 1);
    asked[draw] = share;
    if (share > greatest) greatest = share;
  }
  redrawTrained(GAIN, greatest, context, into);
}

function redrawWork(
  ratio: number,
  { more, less }: ReturnType<typeof workFactor>,
  { shown, gain }: Shifts,
  context: RedrawContext,
  into: Redrawn,
): void {
  const { asked, ranks } = into;
  let greatest = 0;
  for (let draw = 0; draw < asked.length; draw += 1) {
    const climb = gain[draw] ?? 1;
    const work = 1 + (climb - 1) * (climb > 1 ? more : less);
    const share = (ratio * work) / (shown[draw] ?? 1);
    asked[draw] = share;
    if (share > greatest) greatest = share;
  }
  redrawTrained(EFFORT, greatest, context, into);

  const values = columnOf(into, AIM);
  const target = context.design.aim[context.aim];
  const out = newOutcome();
  into.fixedLogs[AIM] = Number.NaN;
  for (let draw = 0; draw < asked.length; draw += 1) {
    aimOutcome(asked[draw] ?? 0, target, out);
    note(values, ranks, draw, out);
  }
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
  let leastMin = Number.POSITIVE_INFINITY;
  for (let draw = 0; draw < asked.length; draw += 1) {
    const spareMin = byMin - (wantedMin + climbMin * ((gain[draw] ?? 1) - 1)) * (time[draw] ?? 1);
    asked[draw] = spareMin;
    if (spareMin < leastMin) leastMin = spareMin;
  }
  const out = newOutcome();
  stormOutcome(leastMin, 0, design.stormWindow, out);
  if (isFull(into, STORM_WINDOW, out)) return;
  const values = columnOf(into, STORM_WINDOW);

  const { degreesOfFreedom } = pace.posterior;
  const deviate90 = quantileMin({ meanMin: 0, scaleMin: 1, degreesOfFreedom }, 0.9);
  const scaleMin = Math.max(1e-9, (exitMin.p90 - exitMin.p50) / deviate90);
  for (let draw = 0; draw < asked.length; draw += 1) {
    const spareMin = asked[draw] ?? 0;
    let probability = Number.NaN;
    if (spareMin < 0) {
      const moreMin = climbMin * ((gain[draw] ?? 1) - 1);
      probability = chance((byMin / (time[draw] ?? 1) - moreMin - exitMin.p50) / scaleMin);
    }
    stormOutcome(spareMin, probability, design.stormWindow, out);
    note(values, ranks, draw, out);
  }
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
  const hasWindow = window !== null;
  const byMin = window?.byMin ?? 0;
  const wantedMin = byMin - (window?.latestMin ?? 0);
  let leastMin = Number.POSITIVE_INFINITY;
  for (let draw = 0; draw < asked.length; draw += 1) {
    const longer = time[draw] ?? 1;
    const moreMin = climbMin * ((gain[draw] ?? 1) - 1);
    const lateMin = (endMin + moreMin) * longer;
    // As the day is planned: the latest round start that keeps every limit, not before the earliest.
    let start = startMin;
    if (!isStartChosen) {
      let bound = Math.min(usualStartMin, backByMin - lateMin);
      if (hasWindow) bound = Math.min(bound, byMin - (wantedMin + moreMin) * longer);
      start = isWindowOpen ? 0 : Math.max(0, Math.floor(bound / stepMin) * stepMin);
    }
    const spareMin = backByMin - start - lateMin;
    asked[draw] = spareMin;
    if (spareMin < leastMin) leastMin = spareMin;
  }
  const out = newOutcome();
  daylightOutcome(leastMin, beforeDuskMin, out);
  if (isFull(into, DAYLIGHT, out)) return;
  const values = columnOf(into, DAYLIGHT);
  for (let draw = 0; draw < asked.length; draw += 1) {
    daylightOutcome(asked[draw] ?? 0, beforeDuskMin, out);
    // A slower draw alone rules nothing out: it puts the route among those that are not yet.
    if (out.rank === RULED_OUT) out.rank = NOT_YET;
    note(values, ranks, draw, out);
  }
}

/**
 * A route as the draws see it. Distance, gain, work, storms, daylight and aim are set anew from its figures; the day is
 * not walked again; the other criteria keep what they are. What is ruled out or incomplete stays so.
 */
export function redraw(figures: RouteFigures, shifts: Shifts, context: RedrawContext, into: Redrawn): void {
  const { ratios, day } = figures;
  const window = day?.window ?? null;
  const light = day?.light ?? null;
  const moving = [
    ...(ratios.distance === null ? [] : [DISTANCE]),
    ...(ratios.gain === null ? [] : [GAIN]),
    ...(ratios.effort === null ? [] : [EFFORT, AIM]),
    ...(window === null ? [] : [STORM_WINDOW]),
    ...(light === null ? [] : [DAYLIGHT]),
  ];
  let fixedRank = FITS;
  figures.values.forEach((value, criterion) => {
    const isFixed = !moving.includes(criterion);
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
  into.logs.forEach((values, criterion) => {
    if (Number.isNaN(into.fixedLogs[criterion])) takeLogs(values);
  });
  if (figures.rank > NOT_YET) into.ranks.fill(figures.rank);
}
