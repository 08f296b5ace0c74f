import Type from 'typebox';
import type { Design } from '../design.ts';
import type { RouteCard } from '../plan/route-card.ts';
import type { Supplies } from '../plan/supplies.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import * as t from '../schema.ts';
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

const kitItem = t.closed({
  system: t.text,
  what: t.text,
  why: t.text,
  who: t.oneOf(['each', 'group', 'adult']),
  count: Type.Integer(),
});

const lightning = t.closed(
  {
    region: t.text,
    month: Type.Integer(),
    clock: t.text,
    utcOffsetHours: t.number,
    highestHour: t.number,
    hours: t.list(t.closed({ hour: t.number, shareOfHighest: t.number })),
    source: t.text,
    caveats: t.list(t.text),
  },
  'how lightning is spread over the hours in a region; never a forecast',
);

const supplies = Type.Unsafe<Supplies>(
  t.open('water (L), food (kcal, kg) and packs (kg) of the late day, with what they rest on'),
);
const leg = Type.Unsafe<RouteCard['legs'][number]>(
  t.open('a leg between two checkpoints: bearings, lengths (m), climb and drop (m), minutes, hazards'),
);
const declination = Type.Unsafe<NonNullable<RouteCard['declination']>>(
  t.open('at the trailhead: degrees, doubt, model and until when it holds'),
);

/** The chosen route as a day, as programs read it. Times are RFC 3339 with the offset of the place. */
const planSchema = t.closed({
  cohort: t.closed({ name: t.text }),
  date: t.text,
  method,
  fit: entrySchema,
  paceFrom: t.closed({ clockedOutings: Type.Integer(), stopsMinPerHour: t.number, checkedOn: t.text }),
  ...dayViewsSchema.properties,
  supplies: t.orNull(supplies),
  kit: t.orNull(t.list(kitItem)),
  routeCard: t.orNull(
    t.closed({ legs: t.list(leg), declination: t.orNull(declination), cautions: t.list(t.text) }),
  ),
  trainingPlan: t.named('TrainingPlan', trainingPlanSchema),
  lightning: t.orNull(lightning),
  lowerChoice: t.orNull(
    t.closed({ name: t.text, distanceM: t.number, gainM: t.numberOrNull, verdict: t.orNull(verdict) }),
  ),
  spareDate: t.orNull(t.closed({ date: t.text, isSuggestion: t.boolean })),
  pages: t.list(t.closed({ key: t.oneOf(PAGE_KEYS), page: peoplePageSchema })),
  meaning: t.text,
  cautions: t.list(t.text),
  attribution: t.attribution,
});

/** The same of what is stored: cohort and route with their ids. */
export const tripPlanSchema = t.closed({
  ...planSchema.properties,
  cohort: t.closed({ id: t.text, name: t.text }),
  fit: t.named('FitEntry', fitEntrySchema),
});

export type TripPlanView = t.Shaped<typeof planSchema>;

/** A plan for programs: its numbers, and its pages as people read them. */
export function tripPlanView(plan: TripPlan, design: Design, units: UnitSystem): TripPlanView {
  const { fit, record, details, training } = plan;
  const card = details?.routeCard ?? null;
  return {
    cohort: { name: record.cohort.name },
    date: plan.date,
    method: { version: METHOD_VERSION, settings: design.version },
    fit: entryView(fit, design.weights, units),
    paceFrom: { ...plan.paceFrom, checkedOn: PACE_CHECKED_ON },
    ...dayViews(details?.day ?? null),
    supplies: details?.supplies ?? null,
    kit: details && kitLines(details.kit, units, design),
    routeCard: card && { legs: card.legs, declination: card.declination, cautions: cardCautions(card) },
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
