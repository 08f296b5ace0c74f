import { type BoundingBox, nearestTurnDeg, type Place } from '../earth/geodesic.ts';
import type { Message } from '../message.ts';
import type { Note } from '../notes.ts';

/** Heights of many places at once, in metres above the tiles' own vertical reference; `null` where no tile knows. */
export interface HeightSamples {
  readonly heightsM: readonly (number | null)[];
  /** For each place, the index into `sources` of the tile that answered; `null` with a `null` height. */
  readonly sourceIndexes: readonly (number | null)[];
}

/** What is known of one elevation tile from its header and its folder; its box holds the centres of the outermost postings. */
export interface TileInfo extends BoundingBox {
  readonly path: string;
  readonly format: 'geotiff' | 'hgt';
  /** `EPSG:4326`, or another system in degrees or metres that is read. */
  readonly crs: string;
  readonly columns: number;
  readonly rows: number;
  /** Posting distance, degrees; of a projected tile at its middle, along its own axes. */
  readonly stepLonDeg: number;
  readonly stepLatDeg: number;
  /** Posting distance on the ground at the tile's middle, metres, the coarser of the two directions. */
  readonly postingM: number;
  readonly unit: 'm' | 'ft' | 'ftUS';
  /** True where the header states no unit and metres were assumed. */
  readonly unitAssumed: boolean;
  /** As the header states it (`EGM96`, `NAVD88`, …); `null` when it does not. */
  readonly verticalReference: string | null;
  readonly nodata: number | null;
  /** Words that must or should stand on whatever is made from the heights; none: not stated. */
  readonly attribution: readonly string[];
  readonly licence: string | null;
  /** When the heights were published, ms since 1970; `null`: not stated. */
  readonly dateMs: number | null;
  /** Changes with the file, so that what was measured on it can be measured again. */
  readonly version: string;
  readonly notes: readonly Note[];
}

/** Whether a place lies within a tile's outermost postings, or so many postings beyond. */
export function covers(tile: TileInfo, { lonDeg, latDeg }: Place, beyond: 0 | 1 = 0): boolean {
  const turnedDeg = nearestTurnDeg(lonDeg, (tile.westDeg + tile.eastDeg) / 2);
  const [marginLonDeg, marginLatDeg] = [beyond * tile.stepLonDeg, beyond * tile.stepLatDeg];
  return (
    turnedDeg >= tile.westDeg - marginLonDeg &&
    turnedDeg <= tile.eastDeg + marginLonDeg &&
    latDeg >= tile.southDeg - marginLatDeg &&
    latDeg <= tile.northDeg + marginLatDeg
  );
}

/** A file or address of a set that gives no heights, and why. */
export interface Refused {
  readonly path: string;
  readonly code: string;
  readonly reason: Message;
}

/** A set of tiles that answers as one surface. */
export interface Surface {
  readonly sources: readonly TileInfo[];
  /** Files of the set that were refused, with the reason; heights never come from these. */
  readonly refused: readonly Refused[];
  /** How many tiles had a block, when it was last asked for, that could not be read. */
  readonly damaged: number;
  /**
   * Bilinear heights of the places, in the order given. Longitudes may run past ±180°.
   * A place is `null` where no tile covers it or any of its four postings is void.
   * @throws EngineError `dem-unreachable` or `dem-changed`: a tile on a server cannot be read now; ask again.
   */
  heightsAt(lonsDeg: ArrayLike<number>, latsDeg: ArrayLike<number>): Promise<HeightSamples>;
  /** Share of void postings of one source, 0 to 1; reads the whole tile. */
  voidShare(sourceIndex: number): Promise<number>;
  close(): Promise<void>;
}
