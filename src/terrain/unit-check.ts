import { basename, dirname } from 'node:path';
import { at, upperMedian } from '../array.ts';
import type { BoundingBox } from '../earth/geodesic.ts';
import { type Message, message } from '../message.ts';
import { M_PER_FT } from '../units.ts';
import { BlockCache } from './block-cache.ts';
import { sampleHeights } from './sample.ts';
import type { Heights } from './samples.ts';
import type { Tile } from './tile.ts';
import { type TileIndex, tileIndex } from './tile-index.ts';
import type { BlockReader } from './tile-position.ts';

/** Places a side looked at where two tiles overlap (design: 25 places, a few blocks). */
const SIDE = 5;
/** Fewer places with both heights prove nothing (design). */
const LEAST_PLACES = 5;
/** Two sets of the same ground differ by less in the middle (inputs: surface models stand 10 to 20 m above the ground). */
const SUSPICIOUS_M = 100;
/** Heights in feet read as metres are 3.28 times too high; so near to it counts (design). */
const RATIO_SHARE = 0.08;
/** Low ground says nothing of a ratio, metres (design). */
const LEAST_HEIGHT_M = 20;
/** Tiles that share no more than an edge do not overlap: postings (design; USGS tiles share 12). */
const LEAST_POSTINGS = 2;

function overlap(a: Tile, b: Tile): BoundingBox | null {
  const box = {
    westDeg: Math.max(a.info.westDeg, b.info.westDeg),
    southDeg: Math.max(a.info.southDeg, b.info.southDeg),
    eastDeg: Math.min(a.info.eastDeg, b.info.eastDeg),
    northDeg: Math.min(a.info.northDeg, b.info.northDeg),
  };
  const isWide = box.eastDeg - box.westDeg >= LEAST_POSTINGS * a.info.stepLonDeg;
  const isHigh = box.northDeg - box.southDeg >= LEAST_POSTINGS * a.info.stepLatDeg;
  return isWide && isHigh ? box : null;
}

/** Tiles that are asked at most (design: each costs a few blocks, and is remembered). */
const MOST_WITNESSES = 3;

/**
 * The tiles that overlap tile `index` and can say something of its unit, best first: one that states its own
 * is enough; else those of other folders, then those of its own, of which a few are asked. Neighbours of one set may be
 * wrong together and then agree, which proves nothing; where they disagree one of them is wrong.
 */
export function unitWitnesses(tiles: readonly Tile[], index: number, near: TileIndex): Tile[] {
  const tile = at(tiles, index);
  const { westDeg, southDeg, eastDeg, northDeg, path } = tile.info;
  const lons = [westDeg, (westDeg + eastDeg) / 2, eastDeg];
  const lats = [southDeg, (southDeg + northDeg) / 2, northDeg];
  const found = new Set(lons.flatMap((lonDeg) => lats.flatMap((latDeg) => near.near(lonDeg, latDeg))));
  const isSameFolder = ({ info }: Tile): boolean => dirname(info.path) === dirname(path);
  const witnesses = [...found]
    .sort((a, b) => a - b)
    .map((other) => at(tiles, other))
    .filter((other) => other !== tile && overlap(tile, other) !== null)
    .sort(
      (a, b) =>
        Number(a.info.unitAssumed) - Number(b.info.unitAssumed) ||
        Number(isSameFolder(a)) - Number(isSameFolder(b)),
    );
  return witnesses.slice(0, witnesses[0]?.info.unitAssumed === false ? 1 : MOST_WITNESSES);
}

/** Heights of one tile alone; a block that cannot be read is void. */
async function heightsOf(tile: Tile, lons: readonly number[], lats: readonly number[]) {
  const held = new BlockCache(Number.POSITIVE_INFINITY);
  const empty = (): Heights => new Float64Array(tile.blockWidth * tile.blockHeight).fill(Number.NaN);
  const blocks: BlockReader = {
    block: (_index, blockX, blockY) =>
      held.get(`${blockX}/${blockY}`, () => tile.readBlock(blockX, blockY).catch(empty)),
  };
  return (await sampleHeights({ tiles: [tile], index: tileIndex([tile]), blocks }, lons, lats)).heightsM;
}

export type UnitFinding = 'agrees' | 'feet' | { readonly differsM: number };

/**
 * Whether a tile that states no unit fits the one it overlaps: `feet` where its heights are 3.28 times as high,
 * else by how much they differ in the middle where that is over 100 m.
 */
export async function unitFinding(tile: Tile, witness: Tile): Promise<UnitFinding> {
  const box = overlap(tile, witness);
  if (box === null) return 'agrees';
  const lons: number[] = [];
  const lats: number[] = [];
  for (let row = 0; row < SIDE; row += 1) {
    for (let column = 0; column < SIDE; column += 1) {
      lons.push(box.westDeg + ((column + 0.5) / SIDE) * (box.eastDeg - box.westDeg));
      lats.push(box.southDeg + ((row + 0.5) / SIDE) * (box.northDeg - box.southDeg));
    }
  }
  const own = await heightsOf(tile, lons, lats);
  const theirs = await heightsOf(witness, lons, lats);
  const differences: number[] = [];
  const ratios: number[] = [];
  own.forEach((height, i) => {
    const other = theirs[i] ?? null;
    if (height === null || other === null) return;
    differences.push(height - other);
    if (other >= LEAST_HEIGHT_M) ratios.push(height / other);
  });
  if (differences.length < LEAST_PLACES) return 'agrees';
  const differsM = upperMedian(differences);
  if (Math.abs(differsM) <= SUSPICIOUS_M) return 'agrees';
  const looksLikeFeet =
    ratios.length >= LEAST_PLACES && Math.abs(upperMedian(ratios) * M_PER_FT - 1) <= RATIO_SHARE;
  return looksLikeFeet ? 'feet' : { differsM };
}

/** Why a tile is refused whose heights look like feet. */
export const feetReason = (witness: Tile): Message =>
  message`its heights look like feet: they are 3.28 times those of ${basename(witness.info.path)}, and ${witness.info.unitAssumed ? 'neither states a unit' : 'it states no unit'}; state it in krummholz-dem.json beside it ({"unit": "ft"}; tiles of another unit go into another folder), or take it away`;
