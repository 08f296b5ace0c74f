import Type from 'typebox';
import type { Shown } from '../capability/demonstrated.ts';
import { paceDiagnostics } from '../capability/pace-diagnostics.ts';
import { whoLimits } from '../capability/who-limits.ts';
import { type Design, designSchema } from '../design.ts';
import { type CohortRecord, readinessOf } from '../rank/readiness.ts';
import { attributionOf } from '../route/attribution.ts';
import {
  attribution,
  boolean,
  closed,
  list,
  number,
  numberOrNull,
  oneOf,
  orNull,
  type Shaped,
  text,
  textOrNull,
} from '../schema.ts';
import { limitText, sharpenText } from '../text/shown-words.ts';
import { toCheckText } from '../text/to-check.ts';

const shownQuantity = closed({ value: number, asWalked: number, date: text, daysBefore: Type.Integer() });

/**
 * What a cohort has shown on a date, its pace, and who limits what. FOR LEADERS ALONE, because of `limits`: never part
 * of a shortlist or a print.
 */
export const readinessSchema = closed({
  cohort: closed({ name: text }),
  date: text,
  distanceM: orNull(shownQuantity),
  gainM: orNull(shownQuantity),
  effortKj: orNull(shownQuantity),
  rockClass: textOrNull,
  highestM: numberOrNull,
  limits: list(
    closed({
      quantity: oneOf(['distanceM', 'gainM', 'effortKj', 'rockClass']),
      labels: list(text),
      text,
    }),
  ),
  pace: closed({
    clockedOutings: Type.Integer(),
    upOfPrior: number,
    downOfPrior: number,
    upPriorSd: number,
    downPriorSd: number,
    relativeWidth: number,
    strongestPull: orNull(closed({ date: text, share: number })),
    condition: numberOrNull,
    isWellConditioned: boolean,
    sharpenBy: closed({ distanceM: number, gainM: number, narrowsBy: number, text }),
  }),
  stopsMinPerHour: number,
  trainingElevationM: number,
  /** The constants of detraining in force. */
  detraining: designSchema.properties.detraining,
  toCheck: list(text),
  attribution,
});

export type ReadinessView = Shaped<typeof readinessSchema>;

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
