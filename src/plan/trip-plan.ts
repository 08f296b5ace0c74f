import type { LightningBackground } from '../day/lightning-background.ts';
import type { Timeline } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import { type CohortRecord, type Fit, type Readiness, readinessOf } from '../rank/rank-routes.ts';
import type { Route } from '../route/describe-route.ts';
import { MEANING_OF_FITS } from '../text/cautions.ts';
import type { UnitSystem } from '../units.ts';
import { entryView, METHOD_VERSION, type ShortlistEntry } from '../views/shortlist-view.ts';
import { type DayDetails, dayDetails } from './day-details.ts';
import { type DayViews, dayViews } from './day-views.ts';
import type { KitItem } from './kit-day.ts';
import { lowerChoice, suggestedSpareDate } from './lower-choice.ts';
import { makeDocument } from './make-document.ts';
import { allCautions } from './plan-cautions.ts';
import type { PlanDocument } from './plan-document.ts';
import { type LowerChoice, partyOf } from './plan-facts.ts';
import type { RouteCard } from './route-card.ts';
import type { Supplies } from './supplies.ts';
import { type TrainingPlan, trainingPlan } from './training-plan.ts';

/** On what the pace was checked: stands on every plan. */
export const PACE_CHECKED_ON =
  'The pace model was checked on simulated groups and on one recorded day of one fit adult, never on minors.';

/** The chosen route as a day, as programs read it. Times are RFC 3339 with the offset of the place. */
export interface TripPlan extends DayViews {
  readonly cohort: { readonly name: string };
  readonly date: string;
  readonly method: { readonly version: string; readonly settings: string };
  readonly fit: ShortlistEntry;
  readonly paceFrom: {
    readonly clockedOutings: number;
    readonly stopsMinPerHour: number;
    readonly checkedOn: string;
  };
  readonly supplies: Supplies | null;
  readonly kit: readonly KitItem[] | null;
  readonly routeCard: RouteCard | null;
  readonly trainingPlan: TrainingPlan;
  readonly lightning: LightningBackground | null;
  readonly lowerChoice: LowerChoice | null;
  /** `YYYY-MM-DD`, and whether the leader named it or it is a suggestion; `null`: none found. */
  readonly spareDate: { readonly date: string; readonly isSuggestion: boolean } | null;
  readonly pages: PlanDocument['pages'];
  readonly meaning: string;
  readonly cautions: readonly string[];
  /** Words that the tiles under the routes looked at and under the recorded days ask for. */
  readonly attribution: readonly string[];
}

export interface TripPlanInput {
  readonly fit: Fit;
  readonly record: CohortRecord;
  readonly date: string;
  /** `YYYY-MM-DD`; given, never read from a clock. Training starts after it. */
  readonly today: string;
  /** Routes that the program knows: for the lower choice and for training. */
  readonly known: readonly Route[];
  /** Named by the leader; `null`: one is suggested. */
  readonly spareDate: string | null;
  /** Whether a warm day is forecast; `null`: not known. */
  readonly warm: boolean | null;
  readonly design: Design;
  readonly units: UnitSystem;
}

export interface MadePlan {
  readonly plan: TripPlan;
  readonly document: PlanDocument;
  /** `null` where no height under the line is known. */
  readonly details: DayDetails | null;
}

const isTimed = (fit: Fit): fit is Fit & { readonly timeline: Timeline } => fit.timeline !== null;

/** What the participants read of their training: dates and sizes of what is left of it. */
const stepLines = (training: TrainingPlan): string[] =>
  training.state === 'ready'
    ? ['What you have all walked is enough for this day. Keep walking until then.']
    : training.state === 'train' || training.state === 'tooShort'
      ? training.steps
          .filter(({ date }) => date < training.tripDate)
          .map((step) => `${step.date}: ${step.text}`)
      : [];

/** Makes the plan of a day from its fit: numbers for programs, pages for people, from one model. */
export function makeTripPlan(input: TripPlanInput): MadePlan {
  const { fit, record, date, today, known, warm, design, units } = input;
  const readiness = readinessOf(record, date, design);
  const training = trainingPlan({
    route: fit.route,
    record,
    today,
    tripDate: date,
    routes: known,
    design,
    units,
  });
  const lower = lowerChoice(fit, known, record, readiness, date, design, units);
  const readinessOn = (on: string): Readiness => readinessOf(record, on, design);
  const suggested =
    input.spareDate === null
      ? suggestedSpareDate(fit, record, readinessOn, date, design, units)
      : input.spareDate;
  const details = isTimed(fit)
    ? dayDetails({
        fit,
        record,
        readiness,
        warm,
        lowerChoice: lower,
        spareDate: suggested,
        trainingSteps: stepLines(training),
        design,
        units,
      })
    : null;
  const party = partyOf(record.cohort);
  const paceFrom = {
    clockedOutings: readiness.pace.outings,
    stopsMinPerHour: Math.round(readiness.pace.stopsMinPerHour * 10) / 10,
    checkedOn: PACE_CHECKED_ON,
  };
  const spareDate = suggested === null ? null : { date: suggested, isSuggestion: input.spareDate === null };
  const document = makeDocument({
    fit,
    record,
    date,
    details,
    training,
    paceFrom,
    spareDate,
    design,
    units,
  });
  return {
    plan: {
      cohort: { name: record.cohort.name },
      date,
      method: { version: METHOD_VERSION, settings: design.version },
      fit: entryView(fit, design.weights),
      paceFrom,
      ...dayViews(details?.day ?? null),
      supplies: details?.supplies ?? null,
      kit: details?.kit.items ?? null,
      routeCard: details?.routeCard ?? null,
      trainingPlan: training,
      lightning: details?.facts.lightning ?? null,
      lowerChoice: lower,
      spareDate,
      pages: document.pages,
      meaning: MEANING_OF_FITS,
      cautions: allCautions(party, units, design).map(({ text }) => text),
      attribution: training.attribution,
    },
    document,
    details,
  };
}
