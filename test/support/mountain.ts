import { writeFileSync } from 'node:fs';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { degrees, POINT, writeTiff } from '../terrain/tiff-writer.ts';

/** Top of an invented cone, and the tile around it: 12 km across, a posting every 30 m or so. */
export const TOP = { lonDeg: -30.2, latDeg: 46.0992, elevationM: 1900 };
const STEP_DEG = 0.0003;
const SIZE = 401;
const SLOPE = 0.3;

/** Writes the tile of the cone. `raisedM` lifts all of it. */
export function writeMountain(path: string, raisedM = 0): void {
  const westDeg = TOP.lonDeg - (STEP_DEG * (SIZE - 1)) / 2;
  const northDeg = TOP.latDeg + (STEP_DEG * (SIZE - 1)) / 2;
  const bytes = writeTiff({
    width: SIZE,
    height: SIZE,
    sample: 'float32',
    value: (column, row) => {
      const at = { lonDeg: westDeg + column * STEP_DEG, latDeg: northDeg - row * STEP_DEG };
      return raisedM + Math.max(100, TOP.elevationM - SLOPE * geodesicM(at, TOP));
    },
    tiepoint: [0, 0, 0, westDeg, northDeg, 0],
    pixelScale: [STEP_DEG, STEP_DEG, 0],
    keys: degrees(POINT),
    nodata: '-9999',
    rowsPerStrip: 16,
    compression: 8,
  });
  writeFileSync(path, bytes);
}
