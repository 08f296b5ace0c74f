import { LRUCache } from 'lru-cache';
import { at } from '../array.ts';
import type { Fit } from '../rank/fit.ts';
import type { Route } from '../route/describe-route.ts';
import type { RouteRepository, StoredRoute } from '../storage/routes.ts';
import { numbering, type StoredRanking, type StoredTable } from './rankings.ts';

/** Fits and routes kept (design): some thirteen and twenty pages. A route takes some 30 to 70 kB, its line as text. */
const FITS_KEPT = 400;
const ROUTES_KEPT = 600;

/** A stored route as it fits. */
export interface StoredFit {
  readonly id: string;
  readonly fit: Fit;
}

export type ExplainedFits = ReturnType<typeof explainedFits>;

/**
 * Routes of a ranking in full, kept beside it: the same ranking is given only while what ranking looks at, cohort,
 * outings, date and settings are the same, and a route is explained again with its next revision.
 */
export function explainedFits(routes: RouteRepository) {
  const fits = new LRUCache<string, Fit>({ max: FITS_KEPT });
  const stored = new LRUCache<string, Route>({ max: ROUTES_KEPT });
  const numberOf = numbering<StoredRanking>();

  const keyOf = (id: string, revision: number): string => `${id} ${revision}`;

  /** The routes of these ids, without those that were deleted since the table was made. */
  async function routesOf(ids: readonly string[], revisionOf: (id: string) => number) {
    const found: Pick<StoredRoute, 'id' | 'revision' | 'route'>[] = [];
    const missing: string[] = [];
    for (const id of ids) {
      const revision = revisionOf(id);
      const route = stored.get(keyOf(id, revision));
      if (route === undefined) missing.push(id);
      else found.push({ id, revision, route });
    }
    for (const { id, revision, route } of await routes.many(missing)) {
      found.push({ id, revision, route });
      stored.set(keyOf(id, revision), route);
    }
    return found;
  }

  /**
   * The routes of some ranks, in the order given, their `certainty` `null`; `explain` is asked for those that were not
   * explained before.
   */
  return async (
    table: StoredTable,
    ranking: StoredRanking,
    ranks: readonly number[],
    explain: (route: Route) => Fit,
  ): Promise<readonly StoredFit[]> => {
    const placeAt = (rank: number): number => at(ranking.order, rank - 1);
    const idAt = (rank: number): string => at(table.ids, placeAt(rank));
    const revisions = new Map(ranks.map((rank) => [idAt(rank), at(table.revisions, placeAt(rank))]));
    const fitKey = (id: string, revision: number): string => `${numberOf(ranking)} ${keyOf(id, revision)}`;
    const explained = new Map<string, Fit>();
    for (const [id, revision] of revisions) {
      const fit = fits.get(fitKey(id, revision));
      if (fit !== undefined) explained.set(id, fit);
    }
    const missing = [...revisions.keys()].filter((id) => !explained.has(id));
    for (const { id, revision, route } of await routesOf(missing, (one) => revisions.get(one) ?? 0)) {
      const fit = explain(route);
      explained.set(id, fit);
      fits.set(fitKey(id, revision), fit);
    }
    return ranks.flatMap((rank) => {
      const id = idAt(rank);
      const fit = explained.get(id);
      return fit === undefined ? [] : [{ id, fit: { ...fit, rank, certainty: null } }];
    });
  };
}
