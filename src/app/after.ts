/** The use cases after a day: its plan beside its recording, and what predictions were worth over a season. */

import type { Outing } from '../capability/outing.ts';
import type { Spread } from '../capability/pace-model.ts';
import {
  type PredictionRecord,
  type PredictionRow,
  predictionRecord,
  predictionRow,
} from '../capability/prediction-record.ts';
import { firstMs } from '../capability/recording/line.ts';
import { planDay } from '../day/day-plan.ts';
import {
  type PlannedAgainstActual,
  plannedAgainstActual,
  plannedDay,
} from '../day/planned-against-actual.ts';
import type { Design } from '../design.ts';
import { dateOf, daysBetween } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { subjectOf } from '../rank/fit.ts';
import { type CohortRecord, type FitRequest, readinessOf } from '../rank/readiness.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Route } from '../route/describe-route.ts';
import { placeText } from '../text/place-words.ts';
import type { UnitSystem } from '../units.ts';
import type { Ground, RouteFile } from './measure.ts';
import { checkDate } from './question.ts';
import { homeOf, type RecordedDay, recordedDay } from './recordings.ts';

/** A route's times for a group: moving minutes, and the whole day with its doubt. */
export interface RouteTimes {
  readonly clockedOutings: number;
  readonly movingMin: number;
  readonly dayMin: Spread;
}

/** A day that was planned and walked. */
export interface AfterDay {
  readonly compared: PlannedAgainstActual;
  /** The outing as it enters the model. */
  readonly outing: Outing;
  /** What was walked against its own prediction; `null` where it cannot be timed. */
  readonly row: PredictionRow | null;
  /** The same route's times by the pace before this day and with it. */
  readonly before: RouteTimes;
  readonly after: RouteTimes;
  readonly record: PredictionRecord;
  /** Words that the tiles under the route and under the recorded days ask for. */
  readonly attribution: readonly string[];
}

/** A day that was planned, and the file of its recording. */
export interface AfterAsked {
  readonly route: Route;
  readonly record: CohortRecord;
  readonly date: string;
  readonly file: RouteFile;
  /** Labels of those who were there; `null`: not recorded, counts for everyone. */
  readonly members?: readonly string[] | null;
  /** Of the heights in names of checkpoints. */
  readonly units?: UnitSystem;
}

/** A cohort as it was before a day: with the outings strictly before it. */
function asBefore({ cohort, outings }: CohortRecord, date: string): CohortRecord {
  return { cohort, outings: outings.filter((outing) => outing.date < date) };
}

function walkedOnPaper(route: Route, record: CohortRecord, date: string, design: Design) {
  const request = { record, date, design };
  const readiness = readinessOf(request);
  const { timeline, facts } = subjectOf(route, request, readiness);
  if (timeline === null) {
    throw new EngineError(
      'dem-none',
      message`the heights under “${route.name}” are not all known, so no day was planned on it: add elevation tiles for its area`,
    );
  }
  return { readiness, timeline, approach: facts.approach(0) };
}

/**
 * The plan of a day, made from the outings before it alone, beside its recording: all checkpoints of the plan, with
 * their cut-off times.
 *
 * @param units of the heights in names of checkpoints that the file does not name
 * @throws EngineError `dem-none` where heights are missing under the route, `bad-date` where the recording is of
 *   another day.
 */
export function comparedDay(
  route: Route,
  { record, date, design }: FitRequest,
  { outing, segments }: RecordedDay,
  units: UnitSystem = 'metric',
): PlannedAgainstActual {
  const before = asBefore(record, checkDate(date));
  const { readiness, timeline, approach } = walkedOnPaper(route, before, date, design);
  const startMs = firstMs(segments);
  if (startMs !== null) {
    const recorded = dateOf(startMs, timeline.zone);
    if (Math.abs(daysBetween(recorded, date)) > 1) {
      throw new EngineError(
        'bad-date',
        message`the recording is of ${recorded}, the plan of ${date}: give the day of the recording`,
      );
    }
  }
  const day = planDay(route, readiness, timeline, approach, design);
  const planned = plannedDay(route, day, (place) => placeText(place, units));
  return plannedAgainstActual(planned, { segments }, outing, design);
}

/** The cohort of a day: those who were there go; `null`: everyone. */
function asThere({ cohort, outings }: CohortRecord, members: readonly string[] | null): CohortRecord {
  return { cohort: { ...cohort, going: members === null ? null : [...members] }, outings };
}

/** A season's predictions against what happened, each as a shortlist on that day would have been made. */
export function seasonRecord(record: CohortRecord, until: string, design: Design): PredictionRecord {
  const { cohort, outings } = record;
  return predictionRecord(
    outings,
    until,
    (before, { date, members }) =>
      readinessOf({ record: asThere({ cohort, outings: before }, members), date, design }).pace,
    design,
  );
}

function timesOf(route: Route, record: CohortRecord, date: string, design: Design): RouteTimes {
  const { readiness, timeline } = walkedOnPaper(route, record, date, design);
  const { movingMin, dayMin } = timeline;
  return { clockedOutings: readiness.pace.outings, movingMin, dayMin };
}

/**
 * After a day: plan and recording side by side, the outing for the model, the pace without and with it, the season's
 * record with it. The rock class counts as walked only where the whole route was.
 * @throws EngineError as `recordedDay` and `comparedDay` do.
 */
export async function afterDay(
  { route, record, date, file, members = null, units = 'metric' }: AfterAsked,
  ground: Ground,
): Promise<AfterDay> {
  const { design } = ground;
  const recording = await recordedDay(
    file,
    { date: checkDate(date), rockClass: null, members },
    ground,
    homeOf(record.cohort),
  );
  const compared = comparedDay(route, { record, date, design }, recording, units);
  const rockClass = compared.isWholeRoute ? (route.attributes.rockClass ?? null) : null;
  const outing: Outing = { ...recording.outing, rockClass };

  const before = asBefore(record, date);
  const withDay: CohortRecord = { ...before, outings: [...before.outings, outing] };
  const { pace } = readinessOf({ record: asThere(before, members), date, design });
  return {
    compared,
    outing,
    row: predictionRow(outing, pace),
    before: timesOf(route, before, date, design),
    after: timesOf(route, withDay, date, design),
    record: seasonRecord(withDay, date, design),
    attribution: attributionOf([route, ...withDay.outings]),
  };
}
