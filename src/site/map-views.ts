import { basename } from 'node:path';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { LRUCache } from 'lru-cache';
import Type from 'typebox';
import type { Context } from '../app/context.ts';
import type { GroundMap } from '../app/ground-maps.ts';
import { pathText } from '../drawing/map/isolines.ts';
import { mapMarks } from '../drawing/map/map-marks.ts';
import { mapScale } from '../drawing/map/map-scale.ts';
import type { MapView } from '../drawing/map/map-svg.tsx';
import { hillshadePng } from '../drawing/map/relief.ts';
import { drawTerrain, type TerrainDrawing, type TerrainWishes } from '../drawing/map/terrain-drawing.ts';
import { notModified, strongTag } from '../http/conditional.ts';
import type { StoredRoute } from '../storage/routes.ts';
import type { TileInfo } from '../terrain/surface.ts';
import { stepText } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import type { PageFrame } from './page.ts';

export const PNG_TYPE = 'image/png';
/** The name of a picture of shaded ground in an address. */
export const shadeFile = Type.String({ pattern: '^[A-Za-z0-9._-]{1,120}\\.png$' });

/** Room for drawn maps, bytes (design: some hundred of them). */
const CACHE_BYTES = 24 * 1024 * 1024;

interface Asked extends TerrainWishes {
  readonly map: GroundMap;
}

export type MapDrawings = ReturnType<typeof mapDrawings>;

/** Maps as they are drawn, kept while there is room. */
export function mapDrawings() {
  const terrains = new LRUCache<string, TerrainDrawing, Asked>({
    maxSize: CACHE_BYTES,
    sizeCalculation: (terrain) => JSON.stringify(terrain).length,
    fetchMethod: (_key, _old, { context: { map, ...wishes } }) => drawTerrain(map.lattice, wishes),
  });
  const shades = new LRUCache<string, Uint8Array, GroundMap>({
    maxSize: CACHE_BYTES,
    sizeCalculation: (png) => png.byteLength,
    fetchMethod: async (_key, _old, { context }) => hillshadePng(context.lattice),
  });
  const drawn = <T>(found: T | undefined): T => {
    if (found === undefined) throw new RangeError('a map was asked for and not drawn');
    return found;
  };
  return {
    terrainOf: async (key: string, asked: Asked) =>
      drawn(await terrains.fetch(`${key} ${asked.units}`, { context: asked })),
    shadeOf: async (key: string, map: GroundMap) => drawn(await shades.fetch(key, { context: map })),
  };
}

/** Names what a map of one route was drawn from: another name, another map. */
export const mapKey = ({ id, revision }: StoredRoute, { method }: Pick<Context, 'method'>): string =>
  `${id}-${revision}-${method}`;

/** A tile in words: its file, how fine it is, and what its heights are counted from. */
function tileText({ path, postingM, verticalReference }: TileInfo, units: UnitSystem): string {
  const every = stepText(Math.round(postingM), units);
  return `${basename(path)} (a height every ${every}${verticalReference === null ? '' : `, ${verticalReference}`})`;
}

/** What a map shows beside its ground. */
interface MapAsked extends Pick<MapView, 'title' | 'treelineM' | 'noTreelineText'> {
  readonly map: GroundMap;
  readonly key: string;
  /** Below which its shaded ground is served. */
  readonly path: string;
  readonly routes: readonly StoredRoute[];
  /** To be numbered, the first of them the start of the only route. */
  readonly places: readonly { readonly lonDeg: number; readonly latDeg: number }[];
  readonly hasStart: boolean;
}

export async function mapViewOf(
  { map, key, path, routes, places, hasStart, ...told }: MapAsked,
  drawings: MapDrawings,
  { to, units }: Pick<PageFrame, 'to' | 'units'>,
): Promise<MapView> {
  const { ofPlace } = mapScale(map.lattice);
  const lines = routes.map(({ route }) => route.line);
  const { treelineM } = told;
  return {
    ...told,
    units,
    terrain: await drawings.terrainOf(key, { map, treelineM, lines: lines.flat(), units }),
    frame: map.frame,
    shadeHref: to(`${path}/shade/${key}.png`),
    lines: lines.map((line) =>
      line.map((segment) => pathText(segment.map(([lonDeg, latDeg]) => ofPlace(lonDeg, latDeg)))).join(''),
    ),
    marks: mapMarks(
      places.map(({ lonDeg, latDeg }) => ofPlace(lonDeg, latDeg)),
      hasStart,
    ),
    sources: map.sources.map((tile) => tileText(tile, units)),
  };
}

/**
 * Sends the shaded ground of a map. An address of older ground leads to the ground as it is now, and is not kept;
 * asked for again it is answered from the cache.
 */
export async function sendShade(
  request: FastifyRequest,
  reply: FastifyReply,
  { file, key, map }: { readonly file: string; readonly key: string; readonly map: GroundMap },
  drawings: MapDrawings,
): Promise<FastifyReply> {
  const isNow = file === `${key}.png`;
  reply.header('cache-control', isNow ? 'private, max-age=31536000, immutable' : 'private, no-cache');
  if (notModified(request, reply, strongTag('shade', key))) return reply;
  return reply.type(PNG_TYPE).send(Buffer.from(await drawings.shadeOf(key, map)));
}
