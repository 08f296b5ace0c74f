import type { Design } from '../design.ts';
import { CAUTIONS, MEANING_OF_FITS } from '../fit/cautions.ts';
import type { CohortRecord, Fit } from '../fit/rank-routes.ts';
import { entryView, METHOD_VERSION, type ShortlistEntry } from '../fit/shortlist.ts';

/** The chosen route as a day. What is not computed yet is `null`, never made up. */
export interface TripPlan {
  readonly cohort: { readonly name: string };
  readonly date: string;
  readonly method: { readonly version: string; readonly settings: string };
  readonly fit: ShortlistEntry;
  readonly paceFrom: { readonly clockedOutings: number; readonly stopsMinPerHour: number };
  readonly cutOffTimes: null;
  readonly retreatTimes: null;
  readonly supplies: null;
  readonly kit: null;
  readonly routeCard: null;
  readonly trainingPlan: null;
  readonly meaning: string;
  readonly cautions: readonly string[];
}

/** Makes the plan of a day from its fit. */
export function makeTripPlan(
  fit: Fit,
  { cohort }: CohortRecord,
  date: string,
  pace: { readonly outings: number; readonly stopsMinPerHour: number },
  design: Design,
): TripPlan {
  return {
    cohort: { name: cohort.name },
    date,
    method: { version: METHOD_VERSION, settings: design.version },
    fit: entryView(fit),
    paceFrom: {
      clockedOutings: pace.outings,
      stopsMinPerHour: Math.round(pace.stopsMinPerHour * 10) / 10,
    },
    cutOffTimes: null,
    retreatTimes: null,
    supplies: null,
    kit: null,
    routeCard: null,
    trainingPlan: null,
    meaning: MEANING_OF_FITS,
    cautions: CAUTIONS,
  };
}
