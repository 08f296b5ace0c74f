/** Stored things as they are sent. What is not named here never leaves the service. */
import Type from 'typebox';
import { storedOutingFields } from '../capability/outing.ts';
import { routeAttributesSchema } from '../ingest/attributes.ts';
import { cohortSchema } from '../ingest/cohort-file.ts';
import { attributionOf, sourcesView } from '../route/attribution.ts';
import {
  attribution,
  closed,
  instant,
  list,
  named,
  number,
  numberOrNull,
  orNull,
  type Shaped,
  text,
  textOrNull,
} from '../schema.ts';
import type { StoredCohort } from '../storage/cohorts.ts';
import type { StoredOuting } from '../storage/outings.ts';
import type { StoredRoute } from '../storage/routes.ts';
import { notesView } from '../text/notes.ts';
import { plannedAgainstActualView, plannedRecordSchema, plannedSchema } from '../views/after-view.ts';
import { measuresSchema, roundedMeasures } from '../views/measures-view.ts';
import { places as rounded, tenth, tenthOrNull } from '../views/rounded.ts';
import { noteRef } from '../views/shortlist-view.ts';

const placeSchema = closed({ lat: number, lon: number, elevationM: numberOrNull });

const keptFields = {
  id: text,
  revision: Type.Integer({ minimum: 1 }),
  createdAt: instant,
  updatedAt: instant,
};

export const routeSchema = closed({
  ...keptFields,
  name: text,
  attributes: named('RouteAttributes', routeAttributesSchema),
  measures: named('Measures', measuresSchema),
  trailhead: placeSchema,
  high: orNull(closed({ ...placeSchema.properties, distanceM: number })),
  sources: list(
    closed({
      tile: text,
      postingM: orNull(number, { description: 'distance between two heights, metres' }),
      date: orNull(text, { description: 'when the heights were published; null: not stated' }),
      version: textOrNull,
      share: number,
      spansM: list(list(number, { minItems: 2, maxItems: 2 }), {
        description: 'from and to along the route, metres',
      }),
      attribution,
    }),
    { description: 'the elevation tiles under the route' },
  ),
  notes: list(noteRef),
});

export const profileSchema = closed({
  id: text,
  name: text,
  profile: list(list(numberOrNull, { minItems: 2, maxItems: 2 }), {
    description: 'metres along the route, and height of the ground in metres or null',
  }),
  attribution,
});

const { outings: _, ...cohortFields } = cohortSchema.properties;

const cohortKept = {
  ...keptFields,
  eraseAfter: Type.String({ description: 'the day after which its data are erased; a later trip moves it' }),
};

export const keptCohortSchema = closed({ ...cohortKept, ...cohortFields });

/** A cohort as GET gives it may be sent back; what the store keeps itself is not read. */
export const cohortChangeSchema = closed({
  ...cohortFields,
  ...Type.Partial(Type.Object(cohortKept)).properties,
});

export const STORE_FIELDS: readonly string[] = Object.keys(cohortKept);

const { date, source, distanceM, gainM, movingMin, standingMin, rockClass, members } = storedOutingFields;

export const keptOutingSchema = closed({
  ...{ id: text, createdAt: instant, date, source, distanceM, gainM, movingMin, standingMin },
  ...{ rockClass, members, lossM: numberOrNull, maxElevationM: numberOrNull },
  turnedBecause: textOrNull,
  nearMisses: list(text),
  planned: orNull(plannedSchema),
  notes: list(noteRef),
  attribution,
});

export const outingRecordSchema = closed(
  {
    id: text,
    createdAt: instant,
    ...storedOutingFields,
    // Only where something was told, or a plan compared.
    turnedBecause: Type.Optional(text),
    nearMisses: Type.Optional(list(text)),
    planned: Type.Optional(plannedRecordSchema),
    notes: list(noteRef),
  },
  'an outing as it is stored; times in ms since 1970',
);

export const cohortExportSchema = closed({
  cohort: closed({
    ...cohortKept,
    lastTripDate: Type.String({ description: 'the latest day that it walked, asked about or was stored' }),
    ...cohortFields,
  }),
  outings: list(named('OutingRecord', outingRecordSchema)),
});

function place(at: { readonly lonDeg: number; readonly latDeg: number; readonly elevationM: number | null }) {
  // Lines are unwrapped inside and may run past ±180°.
  const lon = at.lonDeg - 360 * Math.round(at.lonDeg / 360);
  return { lat: rounded(at.latDeg, 7), lon: rounded(lon, 7), elevationM: tenthOrNull(at.elevationM) };
}

const instantOf = (ms: number): string => new Date(ms).toISOString();

const kept = ({ id, revision, createdAtMs, updatedAtMs }: StoredCohort | StoredRoute) => ({
  ...{ id, revision },
  createdAt: instantOf(createdAtMs),
  updatedAt: instantOf(updatedAtMs),
});

export function viewOfRoute(row: StoredRoute): Shaped<typeof routeSchema> {
  const { name, attributes, measures, trailhead, high, notes } = row.route;
  return {
    ...kept(row),
    name,
    attributes,
    measures: roundedMeasures(measures),
    trailhead: place(trailhead),
    high: high === null ? null : { ...place(high), distanceM: tenth(high.distanceM) },
    sources: sourcesView(row.route),
    notes: notesView(notes),
  };
}

export function viewOfProfile({ id, route }: StoredRoute): Shaped<typeof profileSchema> {
  return {
    id,
    name: route.name,
    profile: route.profile.map(([distanceM, elevationM]) => [tenth(distanceM), tenthOrNull(elevationM)]),
    attribution: attributionOf([route]),
  };
}

export function viewOfCohort(row: StoredCohort, eraseAfter: string): Shaped<typeof keptCohortSchema> {
  return { ...kept(row), eraseAfter, ...row.cohort };
}

/** All that is stored of a cohort, as it is stored: whatever an outing holds is in it. */
export function viewOfExport(
  row: StoredCohort,
  outings: readonly StoredOuting[],
  eraseAfter: string,
): Shaped<typeof cohortExportSchema> {
  return {
    cohort: { ...viewOfCohort(row, eraseAfter), lastTripDate: row.lastTripDate },
    outings: outings.map(({ id, createdAtMs, outing }) => ({
      id,
      createdAt: instantOf(createdAtMs),
      ...outing,
      notes: notesView(outing.notes),
    })),
  };
}

export function viewOfOuting({ id, createdAtMs, outing }: StoredOuting): Shaped<typeof keptOutingSchema> {
  const { date, source, rockClass, members, planned } = outing;
  return {
    ...{ id, createdAt: instantOf(createdAtMs), date, source },
    distanceM: tenth(outing.distanceM),
    gainM: tenthOrNull(outing.gainM),
    lossM: tenthOrNull(outing.quantities?.downM ?? null),
    maxElevationM: tenthOrNull(outing.highM),
    movingMin: tenthOrNull(outing.movingMin),
    standingMin: tenthOrNull(outing.standingMin),
    ...{ rockClass, members },
    turnedBecause: outing.turnedBecause ?? null,
    nearMisses: outing.nearMisses ?? [],
    planned:
      planned === undefined ? null : { routeId: planned.routeId, ...plannedAgainstActualView(planned) },
    notes: notesView(outing.notes),
    attribution: attributionOf([outing]),
  };
}
