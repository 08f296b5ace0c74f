import { at } from '../array.ts';
import type { Design } from '../design.ts';
import { geodesicM } from '../earth/geodesic.ts';
import type { Route } from '../route/describe-route.ts';
import type { SeasonQuestion } from './season.ts';

export interface Trailhead {
  /** As the routes name it; without a name, after the first of them. */
  readonly name: string;
  readonly routes: readonly number[];
  /** What the season states for a trailhead of a name that its routes give it. */
  readonly limits: SeasonQuestion['limits'];
  /** The least that a route states; `null`: none does. */
  readonly parkingSpaces: number | null;
}

const plain = (name: string): string => name.trim().toLowerCase();

/** Whether two names of places or offices mean the same one. */
export const sameName = (a: string, b: string): boolean => plain(a) === plain(b);

const nameOf = (route: Route): string | null => route.attributes.trailhead?.name?.trim() || null;

function isSame(a: Route, b: Route, { samePlaceM, sameNameM }: Design['season']): boolean {
  const apartM = geodesicM(a.trailhead, b.trailhead);
  if (apartM <= samePlaceM) return true;
  const [nameA, nameB] = [nameOf(a), nameOf(b)];
  return nameA !== null && nameB !== null && sameName(nameA, nameB) && apartM <= sameNameM;
}

/**
 * Which routes start at the same place: near each other, or of one name and not far. Chains count as one, the cautious
 * side: their limits are shared.
 */
export function trailheadsOf(
  { routes: stated, limits }: Pick<SeasonQuestion, 'routes' | 'limits'>,
  design: Design['season'],
): Trailhead[] {
  const routes = stated.map(({ route }) => route);
  const groups: number[][] = [];
  routes.forEach((route, index) => {
    const near = groups.filter((group) => group.some((other) => isSame(route, at(routes, other), design)));
    const [first] = near;
    if (first === undefined) {
      groups.push([index]);
      return;
    }
    for (const other of near.slice(1)) {
      first.push(...other.splice(0));
      groups.splice(groups.indexOf(other), 1);
    }
    first.push(index);
  });
  return groups.map((members) => {
    const own = members.map((index) => at(routes, index));
    const spaces = own.flatMap(({ attributes }) => attributes.trailhead?.parkingSpaces ?? []);
    const names = own.flatMap((route) => nameOf(route) ?? []);
    return {
      name: names[0] ?? `the start of ${own[0]?.name ?? ''}`,
      limits: limits.filter(
        ({ trailhead }) => trailhead !== null && names.some((name) => sameName(name, trailhead)),
      ),
      routes: members.toSorted((a, b) => a - b),
      parkingSpaces: spaces.length === 0 ? null : Math.min(...spaces),
    };
  });
}
