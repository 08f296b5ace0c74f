/** What a route's page draws, from the route, its ground and, where one is chosen, the plan of a cohort's day. */

import type { Context } from '../../app/context.ts';
import type { mapOfRoute } from '../../app/maps.ts';
import { at } from '../../array.ts';
import { planProfile } from '../../document/make-document.ts';
import { checkpointsOfDay } from '../../document/plan-facts.ts';
import { mapScale } from '../../drawing/map/map-scale.ts';
import { groundM } from '../../drawing/profile/ground.ts';
import { profileLayout } from '../../drawing/profile/layout.ts';
import {
  NARROW,
  type ProfileDrawing,
  type ProfileFrame,
  tenth,
  WIDE,
} from '../../drawing/profile/profile-drawing.ts';
import { profileScales } from '../../drawing/profile/scales.ts';
import { clock } from '../../earth/local-time.ts';
import type { TripPlan } from '../../plan/trip-plan.ts';
import { type AlongPlace, alongRoute } from '../../route/along.ts';
import { checkpointsOf, type RoutePlace } from '../../route/checkpoints.ts';
import type { Route } from '../../route/describe-route.ts';
import { placeText } from '../../text/place-words.ts';
import { heightText, lengthText, percentText } from '../../text/words.ts';
import { MS_PER_MIN, type UnitSystem } from '../../units.ts';
import { type MapDrawings, mapKey, mapViewOf } from '../map-views.ts';
import type { PageFrame } from '../page.ts';
import type { RoutePageView } from './view.tsx';

export interface DayOn {
  readonly plan: TripPlan;
  /** Minutes after the start at each place along; `null`: not known. */
  readonly minutes: readonly number[] | null;
}

const terrainProfile = (route: Route, places: readonly RoutePlace[], units: UnitSystem): ProfileDrawing => ({
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
});

/** What is said of a step of the way: how far, how high, when, how steep. */
function stepText(
  { distanceM, heightM, slopeRatio }: AlongPlace,
  clockAt: string | null,
  units: UnitSystem,
): string {
  const isLevel = slopeRatio !== null && Math.abs(slopeRatio) < 0.02;
  const turn = slopeRatio !== null && slopeRatio > 0 ? 'up' : 'down';
  return [
    `${lengthText(distanceM, units)} from the start`,
    heightM === null ? 'height not known' : `${heightText(heightM, units)} high`,
    ...(clockAt === null ? [] : [`about ${clockAt}`]),
    slopeRatio === null
      ? 'slope not known'
      : isLevel
        ? 'level'
        : `${turn} ${percentText(Math.abs(slopeRatio))}`,
  ].join(', ');
}

const PLACE_COLUMNS = ['No.', 'Place', 'From start', 'Height'];
const TIME_COLUMNS = ['Early', 'Middle', 'Late', 'Turn back if not here by', 'Start down by'];

function placesOf(places: readonly RoutePlace[], day: DayOn | null, units: UnitSystem) {
  const height = (metres: number | null) => (metres === null ? 'not known' : heightText(metres, units));
  const rows = places.map((place, i) => [
    `${i + 1}`,
    placeText(place, units),
    lengthText(place.distanceM, units),
    height(place.elevationM),
  ]);
  const timed = day?.plan.details ?? null;
  if (timed === null || day === null) return { columns: PLACE_COLUMNS, rows };
  const { zone } = timed.day.timeline;
  const times = checkpointsOfDay(day.plan, timed, units).map(
    ({ kind, at: { p10Ms, p50Ms, p90Ms }, ...place }) => [
      ...(kind === 'trailhead'
        ? ['–', clock(p50Ms, zone), '–']
        : [p10Ms, p50Ms, p90Ms].map((ms) => clock(ms, zone))),
      place.cutOffText,
      place.retreatText,
    ],
  );
  return {
    columns: [...PLACE_COLUMNS, ...TIME_COLUMNS],
    rows: rows.map((row, i) => [...row, ...at(times, i)]),
  };
}

/** Where steps lie on a profile; `null`: there is no drawing, or no height known there. */
function onProfile(drawing: ProfileDrawing | null, frame: ProfileFrame) {
  const scales = drawing && profileScales(drawing, profileLayout(drawing, frame).box);
  return (distanceM: number): readonly [number, number] | null => {
    const heightM = drawing && groundM(drawing.points, distanceM);
    return scales === null || heightM === null
      ? null
      : [tenth(scales.x(distanceM)), tenth(scales.y(heightM))];
  };
}

type RouteGround = Awaited<ReturnType<typeof mapOfRoute>>;

/** The steps as the script `along` reads them: text, then places on `.map`, `.profile.wide` and `.profile.narrow`. */
function alongData(
  { route: { route }, map }: RouteGround,
  day: DayOn | null,
  drawing: ProfileDrawing | null,
  units: UnitSystem,
): string {
  const timeline = day?.plan.details?.day.timeline;
  const scale = map && mapScale(map.lattice);
  const wide = onProfile(drawing, WIDE);
  const narrow = onProfile(drawing, NARROW);
  const steps = alongRoute(route).map((step, i) => {
    const minutes = day?.minutes?.[i];
    const time =
      timeline === undefined || minutes === undefined
        ? null
        : clock(timeline.startMs + minutes * MS_PER_MIN, timeline.zone);
    const { distanceM, lonDeg, latDeg } = step;
    const onMap = scale?.ofPlace(lonDeg, latDeg).map(tenth) ?? null;
    return [stepText(step, time, units), onMap, wide(distanceM), narrow(distanceM)];
  });
  return JSON.stringify(steps);
}

export async function routeViewOf(
  ground: RouteGround,
  day: DayOn | null,
  drawings: MapDrawings,
  context: Context,
  frame: PageFrame,
): Promise<Omit<RoutePageView, 'fitPart' | 'cohorts'>> {
  const { units } = frame;
  const { route: stored, map } = ground;
  const { route } = stored;
  const places = day?.plan.details?.day.places ?? checkpointsOf(route, context.ground.design.checkpoints);
  const hasHeights = route.profile.some(([, heightM]) => heightM !== null);
  const drawn = (day && planProfile(day.plan, units)) ?? terrainProfile(route, places, units);
  const profile = hasHeights ? drawn : null;
  const asked = {
    title: `Map of ${route.name}`,
    key: mapKey(stored, context),
    path: `/routes/${stored.id}`,
    routes: [stored],
    places,
    hasStart: true,
    treelineM: route.measures.treelineM,
    noTreelineText: 'Treeline is not known: nothing is stippled, and no ground here is said to be sheltered.',
  };
  return {
    stored,
    map: map && (await mapViewOf({ ...asked, map }, drawings, frame)),
    profile,
    along: alongData(ground, day, profile, units),
    places: placesOf(places, day, units),
  };
}
