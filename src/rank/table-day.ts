import { at, numberAt } from '../array.ts';
import { aerobicFraction } from '../capability/altitude.ts';
import { addRock, addStops } from '../capability/extra-time.ts';
import { movingTimer, type PaceModel, quantileOf } from '../capability/pace-model.ts';
import { usualDeadlineMs } from '../day/deadline.ts';
import { bedMs } from '../day/journey.ts';
import { hotDayOn } from '../day/season.ts';
import { earliestStart, startWithin } from '../day/start.ts';
import type { DayWishes } from '../day/walk-day.ts';
import { mealMinOf } from '../day/walking.ts';
import type { Design } from '../design.ts';
import { localTimeMs } from '../earth/local-time.ts';
import { MS_PER_MIN } from '../units.ts';
import type { RankTable, SunColumns } from './rank-table.ts';
import { CLIMB_NUMBERS } from './route-row.ts';
import type { Shift } from './shift.ts';

/** The day on every route of a table, one entry a route; ms since 1970, minutes; `NaN`: not known or not there. */
export interface TableDay extends SunColumns {
  /** A leader's own start, where one was chosen: the only one that counts. */
  readonly earliestStartMs: Float64Array;
  readonly deadlineMs: Float64Array;
  /** The afternoon of a hot day at the foot of the route, °C. */
  readonly hotDayC: Float64Array;
  /** Minutes from the start to below treeline for good: middle and scale of the Student-t. */
  readonly exitMeanMin: Float64Array;
  readonly exitScaleMin: Float64Array;
  /** Minutes to there with the probability wanted, and to the end nine times in ten, as a trial shifts them. */
  readonly exitMin: (i: number, shift: Shift) => number;
  readonly endMin: (i: number, shift: Shift) => number;
  /** What a trial's other gain adds to or takes from the time, before its factor on all times. */
  readonly moreMin: (i: number, shift: Shift) => number;
  /** Midnight before the day and bedtime before that, ms since 1970. */
  readonly midnightMs: (i: number) => number;
  readonly bedMs: (i: number) => number;
  /** The start, ms since 1970. */
  readonly startMs: (i: number, shift: Shift) => number;
}

/** Clock times of a date in one zone, ms since 1970; `NaN`: not asked for. */
function clocksOf(date: string, zone: string, wishes: DayWishes, design: Design) {
  const clockMs = (clock: string) => localTimeMs(date, clock, zone);
  return {
    midnightMs: clockMs('00:00'),
    bedMs: bedMs(date, zone, design.journey),
    statedMs: clockMs(wishes.earliestStart ?? design.day.earliestStart),
    usualStartMs: clockMs(design.day.usualStart),
    usualBackMs: clockMs(design.day.usualBack),
    latestClockMs: clockMs(design.stormWindow.latestClock),
    programDeadlineMs: wishes.deadline === null ? Number.NaN : clockMs(wishes.deadline),
    chosenMs: wishes.start == null ? Number.NaN : clockMs(wishes.start),
  };
}

/** How long the group is under way on every route: minutes to below treeline for good and to the end, meal and stops in. */
function walkingTimes(table: RankTable, pace: PaceModel, design: Design) {
  const { size, columns, climbs, climbsFrom, climbsToExit } = table;
  const empty = () => new Float64Array(size).fill(Number.NaN);
  const times = { exitMeanMin: empty(), exitScaleMin: empty(), endMeanMin: empty(), endScaleMin: empty() };
  const timer = movingTimer(pace);
  const trained = aerobicFraction(pace.trainingElevationM);
  const moving = { meanMin: 0, scaleMin: 0 };
  const { exitDownKm, exitDownM, exitClimbM, exitGroundDoubt, exitRockM, exitIsFed } = columns;
  const { endDownKm, endDownM, endClimbM, endGroundDoubt, endRockM, endIsFed } = columns;
  for (let i = 0; i < size; i += 1) {
    if (Number.isNaN(numberAt(columns.gainM, i))) continue;
    let [upKm, upM, exitUpKm, exitUpM] = [0, 0, 0, 0];
    const exitPiece = at(climbsToExit, i);
    for (let piece = at(climbsFrom, i); piece < at(climbsFrom, i + 1); piece += 1) {
      const k = piece * CLIMB_NUMBERS;
      const slower = Math.max(1, trained / numberAt(climbs, k));
      upKm += numberAt(climbs, k + 1) * slower;
      upM += numberAt(climbs, k + 2) * slower;
      if (piece === exitPiece - 1) {
        exitUpKm = upKm;
        exitUpM = upM;
      }
    }
    const doubt = numberAt(columns.climbDoubt, i);
    const [endDoubt, endDoubtM] = [numberAt(endGroundDoubt, i), numberAt(endClimbM, i) * doubt];
    timer(upKm, upM, numberAt(endDownKm, i), numberAt(endDownM, i), endDoubt, endDoubtM, moving);
    const mealMin = mealMinOf(moving.meanMin, design.day);
    addRock(moving, numberAt(endRockM, i), pace);
    addStops(moving, pace, numberAt(endIsFed, i) === 1 ? mealMin : 0);
    times.endMeanMin[i] = moving.meanMin;
    times.endScaleMin[i] = moving.scaleMin;
    if (numberAt(columns.hasExit, i) !== 1) continue;
    const [exitDoubt, exitDoubtM] = [numberAt(exitGroundDoubt, i), numberAt(exitClimbM, i) * doubt];
    timer(exitUpKm, exitUpM, numberAt(exitDownKm, i), numberAt(exitDownM, i), exitDoubt, exitDoubtM, moving);
    addRock(moving, numberAt(exitRockM, i), pace);
    addStops(moving, pace, numberAt(exitIsFed, i) === 1 ? mealMin : 0);
    times.exitMeanMin[i] = moving.meanMin;
    times.exitScaleMin[i] = moving.scaleMin;
  }
  return times;
}

/** The group walks every route of a table on a date: the figures of `walkDay` that criteria need. */
export function tableDay(
  table: RankTable,
  pace: PaceModel,
  date: string,
  wishes: DayWishes,
  design: Design,
): TableDay {
  const { size, columns, zoneAt } = table;
  const { stormWindow, daylight } = design;
  const stepMin = design.day.roundStartMin;
  const sun = table.sunOn(date);
  const times = walkingTimes(table, pace, design);
  const clocks = table.zones.map((zone) => clocksOf(date, zone, wishes, design));
  const earliestStartMs = new Float64Array(size);
  const deadlineMs = new Float64Array(size);
  const hotDayC = new Float64Array(size);
  const hotDay = hotDayOn(date, design.climate);
  const year = { meanC: 0, swingK: 0 };
  for (let i = 0; i < size; i += 1) {
    const { chosenMs, statedMs, programDeadlineMs, latestClockMs } = at(clocks, at(zoneAt, i));
    const isChosen = !Number.isNaN(chosenMs);
    const dawnMs = numberAt(sun.civilDawnMs, i);
    year.meanC = numberAt(columns.seaMeanC, i);
    year.swingK = numberAt(columns.seaSwingK, i);
    hotDayC[i] = hotDay(year, numberAt(columns.lowM, i));
    earliestStartMs[i] = isChosen
      ? chosenMs
      : earliestStart(statedMs, dawnMs, wishes.headlamps === true, stepMin);
    deadlineMs[i] = Number.isNaN(programDeadlineMs)
      ? usualDeadlineMs(latestClockMs, numberAt(sun.solarNoonMs, i), stormWindow)
      : programDeadlineMs;
  }
  const { degreesOfFreedom } = pace.posterior;
  const wanted = quantileOf(stormWindow.probability, degreesOfFreedom);
  const planned = quantileOf(stormWindow.planProbability, degreesOfFreedom);
  const late = quantileOf(0.9, degreesOfFreedom);
  // More gain takes longer at the group's rate of climbing, stops counted.
  const minPerMoreM = at(pace.posterior.mean, 1) * (1 + pace.stopsMinPerHour / 60);
  const moreMin: TableDay['moreMin'] = (i, { gain }) => minPerMoreM * numberAt(columns.upM, i) * (gain - 1);
  const exitBy = (quantile: typeof wanted, i: number, shift: Shift) =>
    (quantile(numberAt(times.exitMeanMin, i), numberAt(times.exitScaleMin, i)) + moreMin(i, shift)) *
    shift.time;
  const exitMin: TableDay['exitMin'] = (i, shift) => exitBy(wanted, i, shift);
  const endMin: TableDay['endMin'] = (i, shift) =>
    (late(numberAt(times.endMeanMin, i), numberAt(times.endScaleMin, i)) + moreMin(i, shift)) * shift.time;
  return {
    ...sun,
    earliestStartMs,
    deadlineMs,
    hotDayC,
    exitMeanMin: times.exitMeanMin,
    exitScaleMin: times.exitScaleMin,
    exitMin,
    endMin,
    moreMin,
    midnightMs: (i) => at(clocks, at(zoneAt, i)).midnightMs,
    bedMs: (i) => at(clocks, at(zoneAt, i)).bedMs,
    startMs(i, shift) {
      const clock = at(clocks, at(zoneAt, i));
      if (!Number.isNaN(clock.chosenMs)) return clock.chosenMs;
      const backByMs = numberAt(sun.civilDuskMs, i) - daylight.beforeDuskMin * MS_PER_MIN;
      const lateMs = endMin(i, shift) * MS_PER_MIN;
      const limits = {
        earliestMs: numberAt(earliestStartMs, i),
        usualMs: clock.usualStartMs,
        stormMs: numberAt(deadlineMs, i) - exitBy(planned, i, shift) * MS_PER_MIN,
        backMs: clock.usualBackMs - lateMs,
        heatMs: numberAt(hotDayC, i) >= design.climate.hotFromC ? numberAt(sun.civilDawnMs, i) : Number.NaN,
        duskMs: backByMs - lateMs,
        isTreelineKnown: numberAt(columns.isTreelineKnown, i) === 1,
      };
      return startWithin(limits, stepMin);
    },
  };
}
