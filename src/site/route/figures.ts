/** What a route's page shows, from the route, its ground and, where one is chosen, the plan of a cohort's day. */

import type { Context } from '../../app/context.ts';
import type { GroundMap } from '../../app/ground-maps.ts';
import type { mapOfRoute } from '../../app/maps.ts';
import { planProfile } from '../../document/make-document.ts';
import { checkpointsOfDay } from '../../document/plan-facts.ts';
import type { MapView } from '../../drawing/map/map-figure.tsx';
import { mapMarks } from '../../drawing/map/map-marks.ts';
import type { MapScale } from '../../drawing/map/map-scale.ts';
import type { ProfileDrawing } from '../../drawing/profile/profile-drawing.ts';
import { clock } from '../../earth/local-time.ts';
import type { TripPlan } from '../../plan/trip-plan.ts';
import { type AlongPlace, alongRoute } from '../../route/along.ts';
import { checkpointsOf, type RoutePlace } from '../../route/checkpoints.ts';
import type { StoredRoute } from '../../storage/routes.ts';
import { bothUnitsText } from '../../text/both-units.ts';
import { measureRows } from '../../text/measure-words.ts';
import { noteText } from '../../text/notes.ts';
import { placeText } from '../../text/place-words.ts';
import { statedRows } from '../../text/stated-words.ts';
import { heightText, lengthText, percentText } from '../../text/words.ts';
import { MS_PER_MIN, type UnitSystem } from '../../units.ts';
import { linePath, type MapDrawings, mapKey, scaleOf, tileText } from '../map-views.ts';
import { rowOfRoute } from '../routes/route-words.ts';
import { alongData } from './along-points.ts';
import type { PlaceTable, RoutePageView } from './view.tsx';

/** A cohort's day on the route. */
export interface DayOn {
  readonly plan: TripPlan;
  /** Minutes after the start at each place along; `null`: not known. */
  readonly minutes: readonly number[] | null;
}

/** The checkpoints without a cohort, as a profile to draw. */
function terrainProfile(
  { route }: StoredRoute,
  places: readonly RoutePlace[],
  units: UnitSystem,
): ProfileDrawing {
  return {
    points: route.profile,
    treelineM: route.measures.treelineM,
    units,
    marks: places.map((place) => ({
      distanceM: place.distanceM,
      heightM: place.elevationM,
      name: placeText(place, units),
      times: '',
      by: null,
    })),
    text: `Height along ${route.name}; the table below says the same of each place.`,
  };
}

/** What is said of a step of the way: how far, how high, when, how steep. */
function stepText(
  { distanceM, heightM, slopeRatio }: AlongPlace,
  clockAt: string | null,
  units: UnitSystem,
): string {
  const slope =
    slopeRatio === null
      ? 'slope not known'
      : Math.abs(slopeRatio) < 0.02
        ? 'level'
        : `${slopeRatio > 0 ? 'up' : 'down'} ${percentText(Math.abs(slopeRatio))}`;
  return [
    `${lengthText(distanceM, units)} from the start`,
    heightM === null ? 'height not known' : `${heightText(heightM, units)} high`,
    ...(clockAt === null ? [] : [`about ${clockAt}`]),
    slope,
  ].join(', ');
}

const height = (metres: number | null, units: UnitSystem): string =>
  metres === null ? 'not known' : heightText(metres, units);

function placesOf(places: readonly RoutePlace[], day: DayOn | null, units: UnitSystem): PlaceTable {
  const timed = day?.plan.details ?? null;
  if (timed === null || day === null) {
    return {
      columns: ['No.', 'Place', 'From start', 'Height'],
      rows: places.map((place, i) => [
        `${i + 1}`,
        placeText(place, units),
        lengthText(place.distanceM, units),
        height(place.elevationM, units),
      ]),
    };
  }
  const checkpoints = checkpointsOfDay(day.plan, timed, units);
  const { zone } = timed.day.timeline;
  const at = (ms: number) => clock(ms, zone);
  return {
    columns: [
      'No.',
      'Place',
      'From start',
      'Height',
      'Early',
      'Middle',
      'Late',
      'Turn back if not here by',
      'Start down by',
    ],
    rows: checkpoints.map((place, i) => [
      `${i + 1}`,
      place.name,
      lengthText(place.distanceM, units),
      height(place.elevationM, units),
      ...(place.kind === 'trailhead'
        ? ['–', at(place.at.p50Ms), '–']
        : [at(place.at.p10Ms), at(place.at.p50Ms), at(place.at.p90Ms)]),
      place.cutOffText,
      place.retreatText,
    ]),
  };
}

async function mapOf(
  stored: StoredRoute,
  map: GroundMap,
  scale: MapScale,
  places: readonly RoutePlace[],
  asked: {
    readonly context: Context;
    readonly drawings: MapDrawings;
    readonly units: UnitSystem;
    readonly to: (path: string) => string;
  },
): Promise<MapView> {
  const { context, drawings, units, to } = asked;
  const { route } = stored;
  const key = mapKey(stored, context);
  const treelineM = route.measures.treelineM;
  return {
    title: `Map of ${route.name}`,
    terrain: await drawings.terrainOf(key, { map, treelineM, lines: route.line, units }),
    frame: map.frame,
    shadeHref: to(`/routes/${stored.id}/shade/${key}.png`),
    lines: [{ path: linePath(stored, scale), id: null }],
    marks: mapMarks(
      places.map(({ lonDeg, latDeg }) => scale.ofPlace(lonDeg, latDeg)),
      true,
    ),
    treelineM,
    noTreelineText: 'Treeline is not known: nothing is stippled, and no ground here is said to be sheltered.',
    sources: map.sources.map((tile) => tileText(tile, units)),
    units,
  };
}

/** The parts of the page that do not depend on how the route fits. */
export async function routeViewOf(
  { route: stored, map }: Awaited<ReturnType<typeof mapOfRoute>>,
  day: DayOn | null,
  drawings: MapDrawings,
  asked: { readonly context: Context; readonly units: UnitSystem; readonly to: (path: string) => string },
): Promise<Omit<RoutePageView, 'fit' | 'cohorts'>> {
  const { units, context } = asked;
  const { route } = stored;
  const timed = day?.plan.details ?? null;
  const places = timed?.day.places ?? checkpointsOf(route, context.ground.design.checkpoints);
  const profile =
    (day === null ? null : planProfile(day.plan, units)) ?? terrainProfile(stored, places, units);
  const hasHeights = route.profile.some(([, heightM]) => heightM !== null);
  const scale = map === null ? null : scaleOf(map);
  const steps = alongRoute(route);
  const points = steps.map((step, i) => {
    const minutes = day?.minutes?.[i];
    const ms =
      timed === null || minutes === undefined ? null : timed.day.timeline.startMs + minutes * MS_PER_MIN;
    return {
      distanceM: step.distanceM,
      text: stepText(step, ms === null ? null : clock(ms, timed?.day.timeline.zone ?? 'UTC'), units),
      map: scale === null ? null : scale.ofPlace(step.lonDeg, step.latDeg),
    };
  });
  return {
    id: stored.id,
    name: route.name,
    map:
      map === null || scale === null ? null : await mapOf(stored, map, scale, places, { ...asked, drawings }),
    profile: hasHeights ? profile : null,
    along: alongData(points, hasHeights ? profile : null),
    bothUnits: bothUnitsText(route, units),
    places: placesOf(places, day, units),
    measures: measureRows(route, units),
    stated: statedRows(route.attributes, units),
    toState: rowOfRoute(stored, units).lacking,
    notes: route.notes.map((note) => noteText(note, units)),
  };
}
