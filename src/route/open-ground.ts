import type { Design } from '../design.ts';
import { rockClassValue } from '../ingest/rock-class.ts';
import type { Route } from './describe-route.ts';
import { linePointsOf, passesOf } from './place-at.ts';

/**
 * What is known of open ground below treeline on a route that has none above it: nothing to ask, to be asked before the
 * trip, likely, or stated without its height.
 */
export const OPEN_GROUND = ['answered', 'asked', 'likely', 'noHeight'] as const;

export type OpenGround = (typeof OPEN_GROUND)[number];

/** Names that bare tops have; English ones, as a beginning (design). */
const BARE_NAME =
  /\b(bald(y|s|ies)?|bare|barrens?|burnt|burned|domes?|slabs?|ledges?|moors?|heaths?|fells?|tors?|crags?|downs?|scars?|rocks?)$|\b(bald|bare|burnt|burned)\b/i;

/** From this class on the way lies on rock. */
const ROCK_CLASS = 3;

const TOP_NAME_M = 150;

/** What the route and the places at its top are called. */
function topNames({ name, waypoints, high, line }: Route): string[] {
  if (high === null) return [name];
  const points = linePointsOf({ line });
  const atTop = waypoints.filter((place) =>
    passesOf(points, place, TOP_NAME_M, TOP_NAME_M).some(
      ({ atM }) => Math.abs(atM - high.distanceM) <= TOP_NAME_M,
    ),
  );
  return [name, ...atTop.map((place) => place.name ?? '')];
}

/**
 * Whether a top below treeline may be bare (granite, burnt or grazed ground, moor): no height tells it, so it is told
 * from what is stated, the class and the surface, and from names. Silence is never taken as forest.
 */
export function openGroundOf(route: Route, { askedFromRiseM }: Design['openGround']): OpenGround {
  const { attributes, measures, high, trailhead } = route;
  const { openGround, openAboveM, rockClass, surface } = attributes;
  if (openAboveM != null || openGround === 'none') return 'answered';
  if (openGround === 'some') return 'noHeight';
  if (measures.aboveTreelineM !== 0 || high === null) return 'answered';
  const isRock =
    surface === 'talus' || (rockClass != null && Math.round(rockClassValue(rockClass)) >= ROCK_CLASS);
  const riseM = high.elevationM - (trailhead.elevationM ?? high.elevationM);
  if (isRock || topNames(route).some((name) => BARE_NAME.test(name.trim()))) return 'likely';
  return riseM >= askedFromRiseM ? 'asked' : 'answered';
}
