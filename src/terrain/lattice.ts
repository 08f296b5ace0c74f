import type { BoundingBox } from '../earth/geodesic.ts';
import { localScale } from '../earth/local-scale.ts';
import type { Surface } from './surface.ts';

/** Heights on a regular net of places: rows from north to south, in each row from west to east. */
export interface Lattice {
  readonly westDeg: number;
  readonly northDeg: number;
  readonly stepLonDeg: number;
  readonly stepLatDeg: number;
  readonly columns: number;
  readonly rows: number;
  /** Distance between neighbours in the middle of the net, to the east and to the south, metres. */
  readonly eastM: number;
  readonly southM: number;
  /** `columns × rows` of them, metres; void is NaN: inside this typed array only, where `null` cannot stand. */
  readonly heightsM: Float32Array;
  /** Indexes into the surface's `sources` of the tiles that answered, rising. */
  readonly sourceIndexes: readonly number[];
}

/** Places asked for at once (design: some milliseconds of work, so that nobody waits behind a map). */
const SLICE = 6000;

/** Lets everything else that waits for its turn go first. */
export const letOthersRun = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/**
 * Heights of the ground in a frame on a net with at most `most` places a side, no finer than `finestM`. Bilinear, as
 * everywhere; asked for in slices, with room for other work between them.
 */
export async function latticeOver(
  surface: Surface,
  frame: BoundingBox,
  finestM: number,
  most: number,
): Promise<Lattice> {
  const scale = localScale((frame.southDeg + frame.northDeg) / 2);
  const widthM = (frame.eastDeg - frame.westDeg) * scale.mPerDegLon;
  const heightM = (frame.northDeg - frame.southDeg) * scale.mPerDegLat;
  const stepM = Math.max(finestM, Math.max(widthM, heightM) / (most - 1));
  const columns = Math.max(2, Math.round(widthM / stepM) + 1);
  const rows = Math.max(2, Math.round(heightM / stepM) + 1);
  const stepLonDeg = (frame.eastDeg - frame.westDeg) / (columns - 1);
  const stepLatDeg = (frame.northDeg - frame.southDeg) / (rows - 1);
  const heightsM = new Float32Array(columns * rows).fill(Number.NaN);
  const answered = new Set<number>();
  const atOnce = Math.max(1, Math.floor(SLICE / columns));
  for (let top = 0; top < rows; top += atOnce) {
    const count = Math.min(atOnce, rows - top) * columns;
    const lons = new Float64Array(count);
    const lats = new Float64Array(count);
    for (let i = 0; i < count; i += 1) {
      lons[i] = frame.westDeg + (i % columns) * stepLonDeg;
      lats[i] = frame.northDeg - (top + Math.floor(i / columns)) * stepLatDeg;
    }
    const found = await surface.heightsAt(lons, lats);
    found.heightsM.forEach((heightM, i) => {
      if (heightM !== null) heightsM[top * columns + i] = heightM;
    });
    for (const index of found.sourceIndexes) if (index !== null) answered.add(index);
    await letOthersRun();
  }
  return {
    westDeg: frame.westDeg,
    northDeg: frame.northDeg,
    stepLonDeg,
    stepLatDeg,
    columns,
    rows,
    eastM: widthM / (columns - 1),
    southM: heightM / (rows - 1),
    heightsM,
    sourceIndexes: [...answered].sort((a, b) => a - b),
  };
}
