import { aerobicFraction } from '../capability/altitude.ts';
import { movingTimer, type PaceModel, quantileOf } from '../capability/pace-model.ts';
import { usualDeadlineMs } from '../day/deadline.ts';
import { earliestStart, startWithin } from '../day/start.ts';
import type { DayWishes } from '../day/walk-day.ts';
import { mealMinOf } from '../day/walking.ts';
import type { Design } from '../design.ts';
import { localTimeMs } from '../earth/local-time.ts';
import { MS_PER_MIN } from '../units.ts';
import type { RankTable } from './rank-table.ts';
import { CLIMB_NUMBERS } from './route-row.ts';

/** The day on every route of a table, one entry a route; ms since 1970, minutes; `NaN`: not known or not there. */
export interface TableDay {
  readonly earliestStartMs: Float64Array;
  readonly startMs: Float64Array;
  readonly deadlineMs: Float64Array;
  readonly latestStartMs: Float64Array;
  /** A start that nothing forces earlier. */
  readonly usualStartMs: Float64Array;
  readonly civilDuskMs: Float64Array;
  readonly polar: Int8Array;
  /** Minutes from the start to below treeline for good, and to the end: middle and scale of the Student-t. */
  readonly exitMeanMin: Float64Array;
  readonly exitScaleMin: Float64Array;
  readonly endMeanMin: Float64Array;
  readonly endScaleMin: Float64Array;
}

/** Clock times of a date in one zone, ms since 1970; `NaN`: not asked for. */
function clocksOf(date: string, zone: string, wishes: DayWishes, design: Design) {
  const at = (clock: string) => localTimeMs(date, clock, zone);
  return {
    statedMs: at(wishes.earliestStart ?? design.day.earliestStart),
    usualStartMs: at(design.day.usualStart),
    latestClockMs: at(design.stormWindow.latestClock),
    programDeadlineMs: wishes.deadline === null ? Number.NaN : at(wishes.deadline),
    chosenMs: wishes.start == null ? Number.NaN : at(wishes.start),
  };
}

/**
 * The group walks every route of a table on a date: the figures of `walkDay` that ranking needs, equal to it but for
 * the last digits. Routes whose heights are not all known have `NaN`.
 */
export function tableDay(
  table: RankTable,
  pace: PaceModel,
  date: string,
  wishes: DayWishes,
  design: Design,
): TableDay {
  const { size, columns, climbs, climbsFrom, climbsToExit, zoneAt } = table;
  const empty = () => new Float64Array(size).fill(Number.NaN);
  const sun = table.sunOn(date);
  const day = {
    earliestStartMs: empty(),
    startMs: empty(),
    deadlineMs: empty(),
    latestStartMs: empty(),
    usualStartMs: empty(),
    civilDuskMs: sun.civilDuskMs,
    polar: sun.polar,
    exitMeanMin: empty(),
    exitScaleMin: empty(),
    endMeanMin: empty(),
    endScaleMin: empty(),
  };
  const clocks = table.zones.map((zone) => clocksOf(date, zone, wishes, design));
  const { stormWindow, daylight } = design;
  const stepMin = design.day.roundStartMin;
  const hasLamps = wishes.headlamps === true;
  const timer = movingTimer(pace);
  const { degreesOfFreedom } = pace.posterior;
  const wanted = quantileOf(stormWindow.probability, degreesOfFreedom);
  const late = quantileOf(0.9, degreesOfFreedom);
  const trained = aerobicFraction(pace.trainingElevationM);
  const stopsFactor = 1 + pace.stopsMinPerHour / 60;
  const moving = { meanMin: 0, scaleMin: 0 };
  const {
    gainM,
    isTreelineKnown,
    hasExit,
    exitDownKm,
    exitDownM,
    exitClimbM,
    exitGroundDoubt,
    exitIsFed,
    endDownKm,
    endDownM,
    endClimbM,
    endGroundDoubt,
    endIsFed,
    climbDoubt,
  } = columns;

  for (let i = 0; i < size; i += 1) {
    if (Number.isNaN(gainM[i] ?? Number.NaN)) continue;
    const at = clocks[zoneAt[i] ?? 0];
    if (at === undefined) continue;
    let upKm = 0;
    let upM = 0;
    let exitUpKm = 0;
    let exitUpM = 0;
    const exitPiece = climbsToExit[i] ?? 0;
    const endPiece = climbsFrom[i + 1] ?? 0;
    for (let piece = climbsFrom[i] ?? 0; piece < endPiece; piece += 1) {
      const k = piece * CLIMB_NUMBERS;
      const slower = Math.max(1, trained / (climbs[k] ?? 1));
      upKm += (climbs[k + 1] ?? 0) * slower;
      upM += (climbs[k + 2] ?? 0) * slower;
      if (piece === exitPiece - 1) {
        exitUpKm = upKm;
        exitUpM = upM;
      }
    }
    const doubt = climbDoubt[i] ?? 0;
    const isExit = hasExit[i] === 1;
    let exitMeanMin = Number.NaN;
    let exitScaleMin = Number.NaN;
    if (isExit) {
      timer(
        exitUpKm,
        exitUpM,
        exitDownKm[i] ?? 0,
        exitDownM[i] ?? 0,
        exitGroundDoubt[i] ?? 0,
        (exitClimbM[i] ?? 0) * doubt,
        moving,
      );
      exitMeanMin = moving.meanMin * stopsFactor;
      exitScaleMin = moving.scaleMin * stopsFactor;
    }
    timer(
      upKm,
      upM,
      endDownKm[i] ?? 0,
      endDownM[i] ?? 0,
      endGroundDoubt[i] ?? 0,
      (endClimbM[i] ?? 0) * doubt,
      moving,
    );
    const mealMin = mealMinOf(moving.meanMin, design.day);
    const endMeanMin = moving.meanMin * stopsFactor + (endIsFed[i] === 1 ? mealMin : 0);
    const endScaleMin = moving.scaleMin * stopsFactor;
    if (exitIsFed[i] === 1) exitMeanMin += mealMin;

    const deadlineMs = Number.isNaN(at.programDeadlineMs)
      ? usualDeadlineMs(at.latestClockMs, sun.solarNoonMs[i] ?? Number.NaN, stormWindow)
      : at.programDeadlineMs;
    const earliestMs = earliestStart(at.statedMs, sun.civilDawnMs[i] ?? Number.NaN, hasLamps, stepMin);
    const latestMs = isExit ? deadlineMs - wanted(exitMeanMin, exitScaleMin) * MS_PER_MIN : Number.NaN;
    let limitMs = at.usualStartMs;
    if (isExit) limitMs = Math.min(limitMs, latestMs);
    if (isTreelineKnown[i] !== 1) limitMs = Math.min(limitMs, earliestMs);
    const duskMs = sun.civilDuskMs[i] ?? Number.NaN;
    if (!Number.isNaN(duskMs)) {
      const backByMs = duskMs - daylight.beforeDuskMin * MS_PER_MIN;
      limitMs = Math.min(limitMs, backByMs - late(endMeanMin, endScaleMin) * MS_PER_MIN);
    }
    const isChosen = !Number.isNaN(at.chosenMs);
    day.startMs[i] = isChosen ? at.chosenMs : startWithin(earliestMs, limitMs, stepMin);
    // A leader's own start is the only one that counts.
    day.earliestStartMs[i] = isChosen ? at.chosenMs : earliestMs;
    day.deadlineMs[i] = deadlineMs;
    day.latestStartMs[i] = latestMs;
    day.usualStartMs[i] = at.usualStartMs;
    day.exitMeanMin[i] = exitMeanMin;
    day.exitScaleMin[i] = exitScaleMin;
    day.endMeanMin[i] = endMeanMin;
    day.endScaleMin[i] = endScaleMin;
  }
  return day;
}
