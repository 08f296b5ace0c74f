import Type from 'typebox';
import type { Shown } from '../capability/demonstrated.ts';
import { paceDiagnostics } from '../capability/pace-diagnostics.ts';
import { whoLimits } from '../capability/who-limits.ts';
import { type Design, designSchema } from '../design.ts';
import { type CohortRecord, readinessOf } from '../rank/readiness.ts';
import { attributionOf } from '../route/attribution.ts';
import * as t from '../schema.ts';
import { limitText, sharpenText } from '../text/shown-words.ts';
import { toCheckText } from '../text/to-check.ts';

const shownQuantity = t.closed({
  value: t.number,
  asWalked: t.number,
  date: t.text,
  daysBefore: Type.Integer(),
});

/**
 * What a cohort has shown on a date, its pace, and who limits what. FOR LEADERS ALONE, because of `limits`: never part
 * of a shortlist or a print.
 */
export const readinessSchema = t.closed({
  cohort: t.closed({ name: t.text }),
  date: t.text,
  distanceM: t.orNull(shownQuantity),
  gainM: t.orNull(shownQuantity),
  effortKj: t.orNull(shownQuantity),
  rockClass: t.textOrNull,
  highestM: t.numberOrNull,
  limits: t.list(
    t.closed({
      quantity: t.oneOf(['distanceM', 'gainM', 'effortKj', 'rockClass']),
      labels: t.list(t.text),
      text: t.text,
    }),
  ),
  pace: t.closed({
    clockedOutings: Type.Integer(),
    upOfPrior: t.number,
    downOfPrior: t.number,
    upPriorSd: t.number,
    downPriorSd: t.number,
    relativeWidth: t.number,
    strongestPull: t.orNull(t.closed({ date: t.text, share: t.number })),
    condition: t.numberOrNull,
    isWellConditioned: t.boolean,
    sharpenBy: t.closed({ distanceM: t.number, gainM: t.number, narrowsBy: t.number, text: t.text }),
  }),
  stopsMinPerHour: t.number,
  trainingElevationM: t.number,
  /** The constants of detraining in force. */
  detraining: designSchema.properties.detraining,
  toCheck: t.list(t.text),
  attribution: t.attribution,
});

export type ReadinessView = t.Shaped<typeof readinessSchema>;

export function readinessView(record: CohortRecord, date: string, design: Design): ReadinessView {
  const { shown, pace, goers, past, theirs, weightOf, questions } = readinessOf({ record, date, design });
  const quantity = (part: Shown | null): Shown | null =>
    part && { value: part.value, asWalked: part.asWalked, date: part.date, daysBefore: part.daysBefore };
  const diagnostics = paceDiagnostics(theirs, design, weightOf);
  const { distanceM, gainM, narrowsBy } = diagnostics.sharpenBy;
  return {
    cohort: { name: record.cohort.name },
    date,
    distanceM: quantity(shown.distanceM),
    gainM: quantity(shown.gainM),
    effortKj: quantity(shown.effortKj),
    rockClass: shown.rockClass?.text ?? null,
    highestM: shown.highestM,
    limits: whoLimits(past, goers, date, design).map(({ hasNone, ...limit }) => ({
      ...limit,
      text: limitText({ ...limit, hasNone }),
    })),
    pace: {
      ...diagnostics,
      sharpenBy: { distanceM, gainM, narrowsBy, text: sharpenText(diagnostics.sharpenBy) },
    },
    stopsMinPerHour: pace.stopsMinPerHour,
    trainingElevationM: pace.trainingElevationM,
    detraining: design.detraining,
    // No question about a cohort holds a length.
    toCheck: questions.map((question) => toCheckText(question, 'metric')),
    attribution: attributionOf(record.outings),
  };
}
