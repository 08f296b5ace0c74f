import { LRUCache } from 'lru-cache';
import type { Fit } from '../fit/rank-routes.ts';
import type { Ranking } from '../fit/ranking.ts';
import type { Route } from '../route/describe-route.ts';
import type { RouteRepository } from '../storage/routes.ts';
import type { UnitSystem } from '../units.ts';
import type { LibraryTable } from './ranked-library.ts';

/** Fits and routes kept (design): some eight pages, and four. A route with its profile takes some 100 kB. */
const FITS_KEPT = 400;
const ROUTES_KEPT = 200;

/**
 * Routes of a ranking in words, kept beside it: the same ranking is given only while routes, cohort, outings, date and
 * settings are the same, and what is kept under another is never looked at again.
 */
export function toldFits(routes: RouteRepository) {
  const fits = new LRUCache<string, Fit>({ max: FITS_KEPT });
  const stored = new LRUCache<string, Route>({ max: ROUTES_KEPT });
  const numbers = new WeakMap<Ranking, number>();
  let rankings = 0;

  function numberOf(ranking: Ranking): number {
    const known = numbers.get(ranking);
    if (known !== undefined) return known;
    rankings += 1;
    numbers.set(ranking, rankings);
    return rankings;
  }

  /** The routes of these ids, without those that were deleted since the table was made. */
  async function routesOf({ version }: LibraryTable, ids: readonly string[]): Promise<Map<string, Route>> {
    const found = new Map<string, Route>();
    const missing: string[] = [];
    for (const id of ids) {
      const known = stored.get(`${version} ${id}`);
      if (known === undefined) missing.push(id);
      else found.set(id, known);
    }
    for (const { id, route } of await routes.many(missing)) {
      found.set(id, route);
      stored.set(`${version} ${id}`, route);
    }
    return found;
  }

  /** The routes of some ranks, in the order given; `tell` is asked for those that were not told before. */
  return async (
    table: LibraryTable,
    ranking: Ranking,
    ranks: readonly number[],
    units: UnitSystem,
    tell: (route: Route) => Fit,
  ): Promise<{ readonly id: string; readonly fit: Fit }[]> => {
    const idAt = (rank: number): string => table.ids[ranking.order[rank - 1] ?? 0] ?? '';
    const keyOf = (id: string): string => `${numberOf(ranking)} ${units} ${id}`;
    const told = new Map<string, Fit>();
    for (const id of ranks.map(idAt)) {
      const fit = fits.get(keyOf(id));
      if (fit !== undefined) told.set(id, fit);
    }
    const untold = ranks.map(idAt).filter((id) => !told.has(id));
    for (const [id, route] of await routesOf(table, untold)) {
      const fit = tell(route);
      told.set(id, fit);
      fits.set(keyOf(id), fit);
    }
    return ranks.flatMap((rank) => {
      const id = idAt(rank);
      const fit = told.get(id);
      return fit === undefined ? [] : [{ id, fit: { ...fit, rank, standing: ranking.standings.at(rank) } }];
    });
  };
}
