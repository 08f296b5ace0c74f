import Type from 'typebox';
import type { Design } from '../design.ts';
import type { RouteCard } from '../plan/route-card.ts';
import type { Supplies } from '../plan/supplies.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import {
  attribution,
  boolean,
  closed,
  list,
  named,
  number,
  numberOrNull,
  oneOf,
  open,
  orNull,
  type Shaped,
  text,
} from '../schema.ts';
import { MEANING_OF_FITS } from '../text/cautions.ts';
import type { UnitSystem } from '../units.ts';
import { dayViews, dayViewsSchema } from '../views/day-view.ts';
import {
  entrySchema,
  entryView,
  fitEntrySchema,
  METHOD_VERSION,
  method,
  verdict,
} from '../views/shortlist-view.ts';
import { trainingPlanSchema, trainingView } from '../views/training-view.ts';
import { kitLines } from './kit-text.ts';
import { PACE_CHECKED_ON } from './leader-sheet.ts';
import { makeDocument } from './make-document.ts';
import { peoplePageSchema } from './people-page.ts';
import { allCautions } from './plan-cautions.ts';
import { PAGE_KEYS } from './plan-document.ts';
import { cardCautions } from './route-card-text.ts';

const kitItem = closed({
  system: text,
  what: text,
  why: text,
  who: oneOf(['each', 'group', 'adult']),
  count: Type.Integer(),
});

const lightning = closed(
  {
    region: text,
    month: Type.Integer(),
    clock: text,
    utcOffsetHours: number,
    highestHour: number,
    hours: list(closed({ hour: number, shareOfHighest: number })),
    source: text,
    caveats: list(text),
  },
  'how lightning is spread over the hours in a region; never a forecast',
);

const supplies = Type.Unsafe<Supplies>(
  open('water (L), food (kcal, kg) and packs (kg) of the late day, with what they rest on'),
);
const leg = Type.Unsafe<RouteCard['legs'][number]>(
  open('a leg between two checkpoints: bearings, lengths (m), climb and drop (m), minutes, hazards'),
);
const declination = Type.Unsafe<NonNullable<RouteCard['declination']>>(
  open('at the trailhead: degrees, doubt, model and until when it holds'),
);

/** The chosen route as a day, as programs read it. Times are RFC 3339 with the offset of the place. */
const planSchema = closed({
  cohort: closed({ name: text }),
  date: text,
  method,
  fit: entrySchema,
  paceFrom: closed({ clockedOutings: Type.Integer(), stopsMinPerHour: number, checkedOn: text }),
  ...dayViewsSchema.properties,
  supplies: orNull(supplies),
  kit: orNull(list(kitItem)),
  routeCard: orNull(closed({ legs: list(leg), declination: orNull(declination), cautions: list(text) })),
  trainingPlan: named('TrainingPlan', trainingPlanSchema),
  lightning: orNull(lightning),
  lowerChoice: orNull(
    closed({ name: text, distanceM: number, gainM: numberOrNull, verdict: orNull(verdict) }),
  ),
  spareDate: orNull(closed({ date: text, isSuggestion: boolean })),
  pages: list(closed({ key: oneOf(PAGE_KEYS), page: peoplePageSchema })),
  meaning: text,
  cautions: list(text),
  attribution,
});

/** The same of what is stored: cohort and route with their ids. */
export const tripPlanSchema = closed({
  ...planSchema.properties,
  cohort: closed({ id: text, name: text }),
  fit: named('FitEntry', fitEntrySchema),
});

export type TripPlanView = Shaped<typeof planSchema>;

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
    fit: entryView(fit, design.weights, units),
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
