import type { LightningBackground } from '../day/lightning-background.ts';
import type { Design } from '../design.ts';
import type { LowerChoice } from '../plan/lower-choice.ts';
import type { RouteCard } from '../plan/route-card.ts';
import type { Supplies } from '../plan/supplies.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import { MEANING_OF_FITS } from '../text/cautions.ts';
import type { UnitSystem } from '../units.ts';
import { type DayViews, dayViews } from '../views/day-views.ts';
import { entryView, METHOD_VERSION, type ShortlistEntry } from '../views/shortlist-view.ts';
import { type TrainingPlanView, trainingView } from '../views/training-view.ts';
import { type KitLine, kitLines } from './kit-text.ts';
import { PACE_CHECKED_ON } from './leader-sheet.ts';
import { makeDocument } from './make-document.ts';
import { allCautions } from './plan-cautions.ts';
import type { PlanDocument } from './plan-document.ts';
import { cardCautions } from './route-card-text.ts';

/** The chosen route as a day, as programs read it. Times are RFC 3339 with the offset of the place. */
export interface TripPlanView extends DayViews {
  readonly cohort: { readonly name: string };
  readonly date: string;
  readonly method: { readonly version: string; readonly settings: string };
  readonly fit: ShortlistEntry;
  readonly paceFrom: TripPlan['paceFrom'] & { readonly checkedOn: string };
  readonly supplies: Supplies | null;
  readonly kit: readonly KitLine[] | null;
  readonly routeCard:
    | (Pick<RouteCard, 'legs' | 'declination'> & { readonly cautions: readonly string[] })
    | null;
  readonly trainingPlan: TrainingPlanView;
  readonly lightning: LightningBackground | null;
  readonly lowerChoice: LowerChoice | null;
  readonly spareDate: TripPlan['spareDate'];
  readonly pages: PlanDocument['pages'];
  readonly meaning: string;
  readonly cautions: readonly string[];
  /** Words that the tiles under the routes looked at and under the recorded days ask for. */
  readonly attribution: readonly string[];
}

const cardView = (card: RouteCard) => {
  return { legs: card.legs, declination: card.declination, cautions: cardCautions(card) };
};

/** A plan for programs: its numbers, and its pages as people read them. */
export function tripPlanView(plan: TripPlan, design: Design, units: UnitSystem): TripPlanView {
  const { fit, record, details, training } = plan;
  return {
    cohort: { name: record.cohort.name },
    date: plan.date,
    method: { version: METHOD_VERSION, settings: design.version },
    fit: entryView(fit, design.weights),
    paceFrom: { ...plan.paceFrom, checkedOn: PACE_CHECKED_ON },
    ...dayViews(details?.day ?? null),
    supplies: details?.supplies ?? null,
    kit: details === null ? null : kitLines(details.kit, units, design),
    routeCard: details === null ? null : cardView(details.routeCard),
    trainingPlan: trainingView(training, units),
    lightning: plan.lightning,
    lowerChoice: plan.lowerChoice,
    spareDate: plan.spareDate,
    pages: makeDocument(plan, design, units).pages,
    meaning: MEANING_OF_FITS,
    cautions: allCautions(plan.party, units, design).map(({ text }) => text),
    attribution: training.attribution,
  };
}
