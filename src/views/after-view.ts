import Type from 'typebox';
import type { PredictionRecord, PredictionRow } from '../capability/prediction-record.ts';
import {
  type PassedCheckpoint,
  type PlannedAgainstActual,
  plannedAgainstActualSchema,
} from '../day/planned-against-actual.ts';
import {
  boolean,
  closed,
  instant,
  instantOrNull,
  list,
  number,
  numberOrNull,
  oneOf,
  orNull,
  type Shaped,
  text,
} from '../schema.ts';
import { predictionText } from '../text/shown-words.ts';
import { momentRef } from './day-view.ts';
import { places, placesOrNull, tenth, tenthOrNull, tenths, timesIn } from './rounded.ts';

const count = Type.Integer();

const predictionRowSchema = closed({
  date: text,
  outingsBefore: count,
  predictedMin: closed({ p10: number, p50: number, p90: number }),
  tookMin: number,
  inside80: boolean,
  ratio: number,
});

export const predictionRecordSchema = closed(
  {
    rows: list(predictionRowSchema),
    n: count,
    inside80: count,
    coverage: orNull(closed({ value: number, low: number, high: number })),
    laterThanP90: count,
    medianErrorMin: numberOrNull,
    medianRatio: numberOrNull,
    tendency: orNull(oneOf(['slower', 'faster', 'asPredicted'])),
    text,
  },
  'moving times of the year up to the date, each predicted from the days before it, against what they took',
);

const stored = plannedAgainstActualSchema.properties;

/** With the route whose plan it was, as it is stored: times in ms since 1970. */
export const plannedRecordSchema = closed({ routeId: text, ...stored });

const plannedAgainstActualViewSchema = closed({
  ...Type.Omit(plannedAgainstActualSchema, ['turnedMs']).properties,
  start: closed({
    planned: instant,
    actual: instantOrNull,
    ...Type.Omit(stored.start, ['plannedMs', 'actualMs']).properties,
  }),
  checkpoints: list(
    closed({
      ...Type.Omit(stored.checkpoints.items, ['planned', 'passedMs', 'cutOffMs']).properties,
      planned: momentRef,
      passed: instantOrNull,
      cutOff: instantOrNull,
    }),
  ),
  turned: instantOrNull,
  belowTreeline: closed({
    deadline: instant,
    passed: instantOrNull,
    outcome: stored.belowTreeline.properties.outcome,
  }),
});

/** The same as it is sent: RFC 3339 with the offset of the place. */
export const plannedSchema = closed(
  { routeId: text, ...plannedAgainstActualViewSchema.properties },
  'the plan of the day, made from the outings before it, beside the recording; null: not passed or not recorded',
);

type PredictionRowView = Shaped<typeof predictionRowSchema>;
export type PredictionRecordView = Shaped<typeof predictionRecordSchema>;
export type PlannedView = Shaped<typeof plannedAgainstActualViewSchema>;

/** A day that was predicted, as it is sent: minutes to a tenth, shares to three places. */
export const predictionRowView = (row: PredictionRow): PredictionRowView => ({
  ...tenths(row),
  ratio: places(row.ratio, 3),
});

/** The record of a season as it is sent. */
export function predictionRecordView(record: PredictionRecord): PredictionRecordView {
  const { coverage, medianRatio } = record;
  const share = (value: number) => places(value, 3);
  return {
    ...record,
    rows: record.rows.map(predictionRowView),
    coverage: coverage && {
      value: share(coverage.value),
      low: share(coverage.low),
      high: share(coverage.high),
    },
    medianErrorMin: tenthOrNull(record.medianErrorMin),
    medianRatio: placesOrNull(medianRatio, 3),
    text: predictionText(record),
  };
}

/** A plan beside its day as it is sent: RFC 3339 with the offset of the place, minutes to a tenth. */
export function plannedAgainstActualView(compared: PlannedAgainstActual): PlannedView {
  const { date, zone, isOnRoute, start, belowTreeline, highestReached, turnedBack, isWholeRoute } = compared;
  const { text, textOrNull, moment } = timesIn(zone);
  const checkpoint = (passed: PassedCheckpoint) => ({
    name: passed.name,
    kind: passed.kind,
    distanceM: tenth(passed.distanceM),
    goingUp: passed.goingUp,
    planned: moment(passed.planned),
    passed: textOrNull(passed.passedMs),
    lateMin: tenthOrNull(passed.lateMin),
    lateSinceStartMin: tenthOrNull(passed.lateSinceStartMin),
    isInside: passed.isInside,
    cutOff: textOrNull(passed.cutOffMs),
    isByCutOff: passed.isByCutOff,
  });
  return {
    ...{ date, zone, isOnRoute },
    start: {
      planned: text(start.plannedMs),
      actual: textOrNull(start.actualMs),
      lateMin: tenthOrNull(start.lateMin),
    },
    checkpoints: compared.checkpoints.map(checkpoint),
    ...{ highestReached, turnedBack },
    turned: textOrNull(compared.turnedMs),
    belowTreeline: {
      deadline: text(belowTreeline.deadlineMs),
      passed: textOrNull(belowTreeline.passedMs),
      outcome: belowTreeline.outcome,
    },
    isWholeRoute,
    moving: tenths(compared.moving),
    standing: tenths(compared.standing),
  };
}
