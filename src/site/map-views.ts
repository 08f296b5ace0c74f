import { basename } from 'node:path';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { LRUCache } from 'lru-cache';
import Type from 'typebox';
import type { Context } from '../app/context.ts';
import type { GroundMap } from '../app/ground-maps.ts';
import { type NetPoint, pathText } from '../drawing/map/isolines.ts';
import { type MapScale, mapScale } from '../drawing/map/map-scale.ts';
import { hillshadePng } from '../drawing/map/relief.ts';
import { drawTerrain, type TerrainDrawing } from '../drawing/map/terrain-drawing.ts';
import { notModified, strongTag } from '../http/conditional.ts';
import type { StoredRoute } from '../storage/routes.ts';
import type { TileInfo } from '../terrain/surface.ts';
import { stepText } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';

export const PNG_TYPE = 'image/png';
/** The name of a picture of shaded ground in an address. */
export const shadeFile = Type.String({ pattern: '^[A-Za-z0-9._-]{1,120}\\.png$' });

/** Room for drawn maps, bytes (design: some hundred of them). */
const CACHE_BYTES = 24 * 1024 * 1024;

interface Asked {
  readonly map: GroundMap;
  readonly treelineM: number | null;
  readonly lines: readonly (readonly NetPoint[])[];
  readonly units: UnitSystem;
}

/** Maps as they are drawn, kept while there is room. */
export interface MapDrawings {
  terrainOf(key: string, asked: Asked): Promise<TerrainDrawing>;
  shadeOf(key: string, map: GroundMap): Promise<Uint8Array>;
}

export function mapDrawings(): MapDrawings {
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
    terrainOf: async (key, asked) => drawn(await terrains.fetch(`${key} ${asked.units}`, { context: asked })),
    shadeOf: async (key, map) => drawn(await shades.fetch(key, { context: map })),
  };
}

/** Names what a map of one route was drawn from: another name, another map. */
export const mapKey = ({ id, revision }: StoredRoute, { method }: Pick<Context, 'method'>): string =>
  `${id}-${revision}-${method}`;

/** The line of a route on a map, as the data of an SVG path. */
export const linePath = ({ route: { line } }: StoredRoute, { ofPlace }: MapScale): string =>
  line.map((segment) => pathText(segment.map(([lonDeg, latDeg]) => ofPlace(lonDeg, latDeg)))).join('');

/** A tile in words: its file, how fine it is, and what its heights are counted from. */
export function tileText({ path, postingM, verticalReference }: TileInfo, units: UnitSystem): string {
  const every = stepText(Math.round(postingM), units);
  return `${basename(path)} (a height every ${every}${verticalReference === null ? '' : `, ${verticalReference}`})`;
}

export const scaleOf = ({ lattice }: GroundMap): MapScale => mapScale(lattice);

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
