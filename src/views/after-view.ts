import type { PredictionRecord, PredictionRow } from '../capability/prediction-record.ts';
import type { PassedCheckpoint, PlannedAgainstActual } from '../day/planned-against-actual.ts';
import { rfc3339 } from '../earth/local-time.ts';

const rounded = (value: number, decimals: number): number => {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale + 0;
};
const tenth = (value: number): number => rounded(value, 1);
const tenthOrNull = (value: number | null): number | null => (value === null ? null : tenth(value));

/** A day that was predicted, as it is sent: minutes to a tenth, shares to three places. */
export function predictionRowView(row: PredictionRow): PredictionRow {
  const { p10, p50, p90 } = row.predictedMin;
  return {
    ...row,
    predictedMin: { p10: tenth(p10), p50: tenth(p50), p90: tenth(p90) },
    tookMin: tenth(row.tookMin),
    ratio: rounded(row.ratio, 3),
  };
}

/** The record of a season as it is sent. */
export function predictionRecordView(record: PredictionRecord): PredictionRecord {
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
  };
}

/** A plan beside its day as it is sent: RFC 3339 with the offset of the place, minutes to a tenth. */
export function plannedAgainstActualView(compared: PlannedAgainstActual) {
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
