import Type from 'typebox';
import type { PredictionRecord, PredictionRow } from '../capability/prediction-record.ts';
import {
  type PassedCheckpoint,
  type PlannedAgainstActual,
  plannedAgainstActualSchema,
} from '../day/planned-against-actual.ts';
import * as t from '../schema.ts';
import { predictionText } from '../text/shown-words.ts';
import { momentRef } from './day-view.ts';
import { places, placesOrNull, tenth, tenthOrNull, tenths, timesIn } from './rounded.ts';

const count = Type.Integer();

const predictionRowSchema = t.closed({
  date: t.text,
  outingsBefore: count,
  predictedMin: t.closed({ p10: t.number, p50: t.number, p90: t.number }),
  tookMin: t.number,
  inside80: t.boolean,
  ratio: t.number,
});

export const predictionRecordSchema = t.closed(
  {
    rows: t.list(predictionRowSchema),
    n: count,
    inside80: count,
    coverage: t.orNull(t.closed({ value: t.number, low: t.number, high: t.number })),
    laterThanP90: count,
    medianErrorMin: t.numberOrNull,
    medianRatio: t.numberOrNull,
    tendency: t.orNull(t.oneOf(['slower', 'faster', 'asPredicted'])),
    text: t.text,
  },
  'moving times of the year up to the date, each predicted from the days before it, against what they took',
);

const stored = plannedAgainstActualSchema.properties;

/** With the route whose plan it was, as it is stored: times in ms since 1970. */
export const plannedRecordSchema = t.closed({ routeId: t.text, ...stored });

const plannedAgainstActualViewSchema = t.closed({
  ...Type.Omit(plannedAgainstActualSchema, ['turnedMs']).properties,
  start: t.closed({
    planned: t.instant,
    actual: t.instantOrNull,
    ...Type.Omit(stored.start, ['plannedMs', 'actualMs']).properties,
  }),
  checkpoints: t.list(
    t.closed({
      ...Type.Omit(stored.checkpoints.items, ['planned', 'passedMs', 'cutOffMs']).properties,
      planned: momentRef,
      passed: t.instantOrNull,
      cutOff: t.instantOrNull,
    }),
  ),
  turned: t.instantOrNull,
  belowTreeline: t.closed({
    deadline: t.instant,
    passed: t.instantOrNull,
    outcome: stored.belowTreeline.properties.outcome,
  }),
});

/** The same as it is sent: RFC 3339 with the offset of the place. */
export const plannedSchema = t.closed(
  { routeId: t.text, ...plannedAgainstActualViewSchema.properties },
  'the plan of the day, made from the outings before it, beside the recording; null: not passed or not recorded',
);

type PredictionRowView = t.Shaped<typeof predictionRowSchema>;
export type PredictionRecordView = t.Shaped<typeof predictionRecordSchema>;
export type PlannedView = t.Shaped<typeof plannedAgainstActualViewSchema>;

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
