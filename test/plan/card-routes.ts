import { DESIGN } from '../../src/design.ts';
import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import type { Track } from '../../src/ingest/track.ts';
import { checkpointsOf, type RoutePlace } from '../../src/route/checkpoints.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import type { ElevatedTrack } from '../../src/terrain/elevated-track.ts';
import { type Drawn, elevated } from '../support/elevated.ts';

export const DATE = '2026-07-11';
export const ATTRIBUTES: RouteAttributes = { rockClass: '2+', treelineM: 1500, surface: 'trail' };

export function routeOf(drawn: Drawn, attributes: RouteAttributes = ATTRIBUTES): Route {
  return describeRoute(elevated(drawn), DESIGN, { attributes });
}

/** Steps up and down at the grades given, `count` stations of 20 m each. */
export function heights(
  baseM: number,
  ...stretches: readonly { readonly count: number; readonly ratio: number }[]
): number[] {
  const found = [baseM];
  for (const { count, ratio } of stretches) {
    for (let i = 0; i < count; i += 1) found.push((found.at(-1) ?? 0) + 20 * ratio);
  }
  return found;
}

/** The checkpoints of a route, reached at the trade rule's 30 min a mile or so and half as late again. */
export function timed(
  route: Route,
  places: readonly RoutePlace[] = checkpointsOf(route, DESIGN.checkpoints),
) {
  return places.map((place) => ({
    ...place,
    afterMin: { p50: place.distanceM / 50, p90: (1.5 * place.distanceM) / 50 },
  }));
}

export function place(given: Partial<RoutePlace> & Pick<RoutePlace, 'kind' | 'distanceM'>): RoutePlace {
  return {
    name: '',
    elevationM: null,
    lonDeg: -30.2,
    latDeg: 46.1,
    goingUp: true,
    aboveTreeline: false,
    ...given,
  };
}

/** Two lines with nothing drawn between them: the second begins where the first would be after so many more steps. */
export function withGap(drawn: Drawn, fromStep: number, toStep: number): ElevatedTrack {
  const whole = elevated(drawn);
  const [segment] = whole.segments;
  const [points] = whole.track.segments;
  if (segment === undefined || points === undefined) throw new RangeError('no line');
  const spacingM = drawn.spacingM ?? 20;
  const cut = <T>(values: readonly T[]) => [values.slice(0, fromStep + 1), values.slice(toStep)] as const;
  const parts = (['lonDeg', 'latDeg', 'groundM', 'leftM', 'rightM', 'recordedM', 'timeMs'] as const).map(
    (key) => [key, cut<number | null>(segment[key])] as const,
  );
  const segments = [0, 1].map((part) => ({
    ...segment,
    ...Object.fromEntries(parts.map(([key, halves]) => [key, halves[part === 0 ? 0 : 1]])),
    distanceM: cut(segment.distanceM)[part === 0 ? 0 : 1].map(
      (_, i) => (i + (part === 0 ? 0 : fromStep)) * spacingM,
    ),
  }));
  const track: Track = { ...whole.track, segments: cut(points) };
  return { ...whole, track, segments, lengthM: whole.lengthM - (toStep - fromStep) * spacingM };
}
