import Type from 'typebox';
import type { PredictionRecord, PredictionRow } from '../capability/prediction-record.ts';
import {
  type PassedCheckpoint,
  type PlannedAgainstActual,
  plannedAgainstActualSchema,
} from '../day/planned-against-actual.ts';
import { rfc3339 } from '../earth/local-time.ts';
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
import { places as rounded, tenth, tenthOrNull } from './rounded.ts';

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
export function predictionRowView(row: PredictionRow): PredictionRowView {
  const { p10, p50, p90 } = row.predictedMin;
  return {
    ...row,
    predictedMin: { p10: tenth(p10), p50: tenth(p50), p90: tenth(p90) },
    tookMin: tenth(row.tookMin),
    ratio: rounded(row.ratio, 3),
  };
}

/** The record of a season as it is sent. */
export function predictionRecordView(record: PredictionRecord): PredictionRecordView {
  const { coverage, medianRatio } = record;
  return {
    ...record,
    rows: record.rows.map(predictionRowView),
    coverage:
      coverage === null
        ? null
        : {
            value: rounded(coverage.value, 3),
            low: rounded(coverage.low, 3),
            high: rounded(coverage.high, 3),
          },
    medianErrorMin: tenthOrNull(record.medianErrorMin),
    medianRatio: medianRatio === null ? null : rounded(medianRatio, 3),
    text: predictionText(record),
  };
}

/** A plan beside its day as it is sent: RFC 3339 with the offset of the place, minutes to a tenth. */
export function plannedAgainstActualView(compared: PlannedAgainstActual): PlannedView {
  const { zone, start, belowTreeline, moving, standing } = compared;
  const text = (ms: number) => rfc3339(ms, zone);
  const textOrNull = (ms: number | null) => (ms === null ? null : text(ms));
  const checkpoint = (passed: PassedCheckpoint) => ({
    name: passed.name,
    kind: passed.kind,
    distanceM: tenth(passed.distanceM),
    goingUp: passed.goingUp,
    planned: {
      p10: text(passed.planned.p10Ms),
      p50: text(passed.planned.p50Ms),
      p90: text(passed.planned.p90Ms),
    },
    passed: textOrNull(passed.passedMs),
    lateMin: tenthOrNull(passed.lateMin),
    lateSinceStartMin: tenthOrNull(passed.lateSinceStartMin),
    isInside: passed.isInside,
    cutOff: textOrNull(passed.cutOffMs),
    isByCutOff: passed.isByCutOff,
  });
  return {
    date: compared.date,
    zone,
    isOnRoute: compared.isOnRoute,
    start: {
      planned: text(start.plannedMs),
      actual: textOrNull(start.actualMs),
      lateMin: tenthOrNull(start.lateMin),
    },
    checkpoints: compared.checkpoints.map(checkpoint),
    highestReached: compared.highestReached,
    turnedBack: compared.turnedBack,
    turned: textOrNull(compared.turnedMs),
    belowTreeline: {
      deadline: text(belowTreeline.deadlineMs),
      passed: textOrNull(belowTreeline.passedMs),
      outcome: belowTreeline.outcome,
    },
    isWholeRoute: compared.isWholeRoute,
    moving: { plannedMin: tenth(moving.plannedMin), actualMin: tenthOrNull(moving.actualMin) },
    standing: { plannedMin: tenth(standing.plannedMin), actualMin: tenthOrNull(standing.actualMin) },
  };
}
