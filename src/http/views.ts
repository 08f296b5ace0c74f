/** Stored things as they are sent. What is not named here never leaves the service. */

import { attributionOf, sourcesView } from '../route/attribution.ts';
import type { StoredCohort } from '../storage/cohorts.ts';
import type { StoredOuting } from '../storage/outings.ts';
import type { StoredRoute } from '../storage/routes.ts';
import { notesView } from '../text/notes.ts';
import { plannedAgainstActualView } from '../views/after-view.ts';
import { roundedMeasures } from '../views/shortlist-view.ts';

const rounded = (value: number, decimals: number): number => {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale + 0;
};

const tenth = (value: number): number => rounded(value, 1);
const tenthOrNull = (value: number | null): number | null => (value === null ? null : tenth(value));

function place(at: { readonly lonDeg: number; readonly latDeg: number; readonly elevationM: number | null }) {
  // Lines are unwrapped inside and may run past ±180°.
  const lon = at.lonDeg - 360 * Math.round(at.lonDeg / 360);
  return { lat: rounded(at.latDeg, 7), lon: rounded(lon, 7), elevationM: tenthOrNull(at.elevationM) };
}

function kept(row: { id: string; revision: number; createdAtMs: number; updatedAtMs: number }) {
  const { id, revision, createdAtMs, updatedAtMs } = row;
  return {
    id,
    revision,
    createdAt: new Date(createdAtMs).toISOString(),
    updatedAt: new Date(updatedAtMs).toISOString(),
  };
}

export function viewOfRoute(row: StoredRoute) {
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

export function viewOfProfile({ id, route }: StoredRoute) {
  return {
    id,
    name: route.name,
    profile: route.profile.map(([distanceM, elevationM]) => [tenth(distanceM), tenthOrNull(elevationM)]),
    attribution: attributionOf([route]),
  };
}

export function viewOfCohort(row: StoredCohort, eraseAfter: string) {
  return { ...kept(row), eraseAfter, ...row.cohort };
}

/** All that is stored of a cohort, as it is stored: whatever an outing holds is in it. */
export function viewOfExport(row: StoredCohort, outings: readonly StoredOuting[], eraseAfter: string) {
  return {
    cohort: { ...viewOfCohort(row, eraseAfter), lastTripDate: row.lastTripDate },
    outings: outings.map(({ id, createdAtMs, outing }) => ({
      id,
      createdAt: new Date(createdAtMs).toISOString(),
      ...outing,
      notes: notesView(outing.notes),
    })),
  };
}

export function viewOfOuting({ id, createdAtMs, outing }: StoredOuting) {
  return {
    id,
    createdAt: new Date(createdAtMs).toISOString(),
    date: outing.date,
    source: outing.source,
    distanceM: tenth(outing.distanceM),
    gainM: tenthOrNull(outing.gainM),
    lossM: tenthOrNull(outing.quantities?.downM ?? null),
    maxElevationM: tenthOrNull(outing.highM),
    movingMin: tenthOrNull(outing.movingMin),
    standingMin: tenthOrNull(outing.standingMin),
    rockClass: outing.rockClass,
    members: outing.members,
    turnedBecause: outing.turnedBecause ?? null,
    nearMisses: outing.nearMisses ?? [],
    planned:
      outing.planned === undefined
        ? null
        : { routeId: outing.planned.routeId, ...plannedAgainstActualView(outing.planned) },
    notes: notesView(outing.notes),
    attribution: attributionOf([outing]),
  };
}
