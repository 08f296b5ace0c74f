/** The shaded ground as a picture. The only file that knows fast-png. */
import { encode } from 'fast-png';
import type { Lattice } from '../../terrain/lattice.ts';
import { gradients, shade } from './relief.ts';

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
