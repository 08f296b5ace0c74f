import { LRUCache } from 'lru-cache';
import type { BoundingBox } from '../earth/geodesic.ts';
import { mapFrame } from '../route/map-frame.ts';
import type { StoredRoute } from '../storage/routes.ts';
import { type Lattice, latticeOver } from '../terrain/lattice.ts';
import type { Surface, TileInfo } from '../terrain/surface.ts';

/** The ground around routes, for a map of them. */
export interface GroundMap {
  readonly frame: BoundingBox;
  readonly lattice: Lattice;
  /** Tiles that its heights come from. */
  readonly sources: readonly TileInfo[];
}

/** Room for lattices, bytes (design: a hundred of the largest). */
const CACHE_BYTES = 36 * 1024 * 1024;
/** Places a side at most (design: two units of the map apart, finer is not seen). */
const MOST_PLACES = 300;
/** Posting where no tile covers the frame, metres: nothing depends on it. */
const NO_POSTING_M = 30;

/** Routes further apart than this are on no map together, degrees of latitude (design): it would read every tile. */
const MOST_SPAN_DEG = 1.5;
/** The finest posting at these latitudes: a net finer than the tiles of a place does no harm there. */
const finestIn = (frame: BoundingBox, sources: readonly TileInfo[]): number => {
  const covering = sources.filter(
    ({ southDeg, northDeg }) => southDeg < frame.northDeg && northDeg > frame.southDeg,
  );
  return covering.length === 0 ? NO_POSTING_M : Math.min(...covering.map(({ postingM }) => postingM));
};

export type GroundMaps = ReturnType<typeof groundMaps>;

/** Lattices of heights around routes, made once while there is room and asked for by many at a time; `null`: no point, or too far apart. */
export function groundMaps(surface: Surface): (routes: readonly StoredRoute[]) => Promise<GroundMap | null> {
  const cache = new LRUCache<string, GroundMap, readonly StoredRoute[]>({
    maxSize: CACHE_BYTES,
    sizeCalculation: ({ lattice }) => lattice.heightsM.byteLength + 1024,
    async fetchMethod(_key, _old, { context: routes }) {
      const frame = mapFrame(routes.map(({ route }) => route));
      if (frame === null || frame.northDeg - frame.southDeg > MOST_SPAN_DEG) return undefined;
      const lattice = await latticeOver(surface, frame, finestIn(frame, surface.sources), MOST_PLACES);
      const sources = lattice.sourceIndexes.flatMap((index) => surface.sources[index] ?? []);
      return { frame, lattice, sources };
    },
  });
  return async (routes) => {
    // A line never changes; a route gets a new revision where its ground does.
    const key = routes.map(({ id, revision }) => `${id}-${revision}`).join(' ');
    return (await cache.fetch(key, { context: routes })) ?? null;
  };
}
