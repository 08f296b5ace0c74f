import { type PaceDiagnostics, paceDiagnostics } from '../capability/pace-diagnostics.ts';
import { type Limit, whoLimits } from '../capability/who-limits.ts';
import type { Design } from '../design.ts';
import { type CohortRecord, readinessOf } from '../rank/readiness.ts';
import { attributionOf } from '../route/attribution.ts';

export interface ShownView {
  readonly value: number;
  readonly asWalked: number;
  readonly date: string;
  readonly daysBefore: number;
}

/**
 * What a cohort has shown on a date, its pace, and who limits what. FOR LEADERS ALONE, because of `limits`: never part
 * of a shortlist or a print.
 */
export interface ReadinessView {
  readonly cohort: { readonly name: string };
  readonly date: string;
  readonly distanceM: ShownView | null;
  readonly gainM: ShownView | null;
  readonly effortKj: ShownView | null;
  readonly rockClass: string | null;
  readonly highestM: number | null;
  readonly limits: readonly Limit[];
  readonly pace: PaceDiagnostics;
  readonly stopsMinPerHour: number;
  readonly trainingElevationM: number;
  /** The constants of detraining in force. */
  readonly detraining: Design['detraining'];
  readonly toCheck: readonly string[];
  /** Words that the tiles under the recorded days ask for. */
  readonly attribution: readonly string[];
}

export function readinessView(record: CohortRecord, date: string, design: Design): ReadinessView {
  const { shown, pace, goers, past, theirs, weightOf, toCheck } = readinessOf({ record, date, design });
  const plain = (value: ShownView | null): ShownView | null =>
    value === null
      ? null
      : { value: value.value, asWalked: value.asWalked, date: value.date, daysBefore: value.daysBefore };
  return {
    cohort: { name: record.cohort.name },
    date,
    distanceM: plain(shown.distanceM),
    gainM: plain(shown.gainM),
    effortKj: plain(shown.effortKj),
    rockClass: shown.rockClass?.text ?? null,
    highestM: shown.highestM,
    limits: whoLimits(past, goers, date, design),
    pace: paceDiagnostics(theirs, design, weightOf),
    stopsMinPerHour: pace.stopsMinPerHour,
    trainingElevationM: pace.trainingElevationM,
    detraining: design.detraining,
    toCheck,
    attribution: attributionOf(record.outings),
  };
}
