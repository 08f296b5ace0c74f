import type { Design } from '../design.ts';
import { geodesicM } from '../earth/geodesic.ts';
import type { Route } from '../route/describe-route.ts';

/** A place where walks start, and the routes from there. */
export interface Trailhead {
  /** As the routes name it; without a name, after the first of them. */
  readonly name: string;
  /** Every name that its routes give it. */
  readonly names: readonly string[];
  readonly routes: readonly number[];
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

/** Whether a limit that names a trailhead means this one. */
export const isAt = ({ trailhead }: { readonly trailhead: string | null }, { names }: Trailhead): boolean =>
  trailhead !== null && names.some((name) => sameName(name, trailhead));

/**
 * Which routes start at the same place: near each other, or of one name and not far. Chains count as one, the cautious
 * side: their limits are shared.
 */
export function trailheadsOf(routes: readonly Route[], design: Design['season']): Trailhead[] {
  const groups: number[][] = [];
  routes.forEach((route, index) => {
    const near = groups.filter((group) =>
      group.some((other) => isSame(route, routes[other] ?? route, design)),
    );
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
    const of = members.flatMap((index) => routes[index] ?? []);
    const spaces = of.flatMap(({ attributes }) => attributes.trailhead?.parkingSpaces ?? []);
    const names = of.flatMap((route) => nameOf(route) ?? []);
    return {
      name: names[0] ?? `the start of ${of[0]?.name ?? ''}`,
      names,
      routes: members.toSorted((a, b) => a - b),
      parkingSpaces: spaces.length === 0 ? null : Math.min(...spaces),
    };
  });
}
