import { encode } from 'fast-png';
import { hornRiseM } from '../../terrain/horn.ts';
import type { Lattice } from '../../terrain/lattice.ts';

/** How the ground rises towards east and north at each place of a lattice, rise over run; NaN beside a void. */
export interface Gradients {
  readonly east: Float32Array;
  readonly north: Float32Array;
}

/** Gradients by Horn's method. At the edge of the net those of the places one step further in stand. */
export function gradients({ columns, rows, eastM, southM, heightsM }: Lattice): Gradients {
  const east = new Float32Array(columns * rows).fill(Number.NaN);
  const north = new Float32Array(columns * rows).fill(Number.NaN);
  if (columns < 3 || rows < 3) return { east, north };
  const height = (i: number): number => heightsM[i] as number;
  for (let row = 0; row < rows; row += 1) {
    const middleRow = Math.min(rows - 2, Math.max(1, row)) * columns;
    for (let column = 0; column < columns; column += 1) {
      const i = row * columns + column;
      // A void in the middle itself has no weight in the sum.
      if (Number.isNaN(height(i))) continue;
      const middle = middleRow + Math.min(columns - 2, Math.max(1, column));
      const [above, below] = [middle - columns, middle + columns];
      const [nw, n, ne] = [height(above - 1), height(above), height(above + 1)];
      const [sw, s, se] = [height(below - 1), height(below), height(below + 1)];
      east[i] = hornRiseM(nw, height(middle - 1), sw, ne, height(middle + 1), se) / eastM;
      north[i] = hornRiseM(sw, s, se, nw, n, ne) / southM;
    }
  }
  return { east, north };
}

/** Rise over run along the steepest way, at each place; NaN where it is not known. */
export function slopeRatios({ east, north }: Gradients): Float32Array {
  return east.map((e, i) => Math.hypot(e, north[i] ?? Number.NaN));
}

/** Where the light of a map comes from: north-west, half-way up (common practice of relief maps, no source). */
const LIGHT_AZIMUTH_DEG = 315;
const LIGHT_HEIGHT_DEG = 45;
const RAD = Math.PI / 180;

/**
 * Brightness of the ground under one light, 0 to 1, as a matt surface has it: the cosine between the light and the
 * upright of the ground (Lambert); NaN where it is not known.
 * @example shade(0, 0) // 0.7071, level ground
 */
export function shade(eastRise: number, northRise: number): number {
  const lx = Math.sin(LIGHT_AZIMUTH_DEG * RAD) * Math.cos(LIGHT_HEIGHT_DEG * RAD);
  const ly = Math.cos(LIGHT_AZIMUTH_DEG * RAD) * Math.cos(LIGHT_HEIGHT_DEG * RAD);
  const lz = Math.sin(LIGHT_HEIGHT_DEG * RAD);
  const cosine = (lz - lx * eastRise - ly * northRise) / Math.sqrt(1 + eastRise ** 2 + northRise ** 2);
  return Number.isNaN(cosine) ? Number.NaN : Math.max(0, cosine);
}

/** A PNG in greys, a pixel for each place of the lattice; where a height is not known it is clear. */
export function hillshadePng(lattice: Lattice): Uint8Array {
  const { columns, rows } = lattice;
  const { east, north } = gradients(lattice);
  const data = new Uint8Array(2 * columns * rows);
  for (let i = 0; i < columns * rows; i += 1) {
    const bright = shade(east[i] ?? Number.NaN, north[i] ?? Number.NaN);
    if (Number.isNaN(bright)) continue;
    data[2 * i] = Math.round(255 * bright);
    data[2 * i + 1] = 255;
  }
  return encode({ width: columns, height: rows, data, depth: 8, channels: 2 });
}
