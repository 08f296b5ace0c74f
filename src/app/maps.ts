/** Routes with the ground around them, for maps. */
import { nearEachOther } from '../route/map-frame.ts';
import type { Context } from './context.ts';
import { getRoute } from './routes.ts';

/** So far from one of them the others of a map may begin: with their lengths and its margin that is less than what one map spans. */
const NEAR_DEG = 0.5;

/** A route with the ground around it, for its map; `map` `null`: its line has no point. */
export async function mapOfRoute(context: Context, id: string) {
  const route = await getRoute(context, id);
  return { route, map: await context.maps([route]) };
}

/**
 * The first `most` routes with the ground around them; `map` `null`: none, too many, or one is too long. Where they lie too
 * far apart for one map, `strays` are those that are not on it.
 */
export async function mapOfAllRoutes({ store, maps }: Context, most: number) {
  const all = await store.routes.list({ limit: most + 1, after: null });
  if (all.length > most) return { routes: all.slice(0, most), strays: [], map: null };
  const map = await maps(all);
  if (map !== null) return { routes: all, strays: [], map };
  const { near, far } = nearEachOther(all, NEAR_DEG);
  const ofMost = far.length === 0 ? null : await maps(near);
  return ofMost === null
    ? { routes: all, strays: [], map: null }
    : { routes: near, strays: far, map: ofMost };
}
