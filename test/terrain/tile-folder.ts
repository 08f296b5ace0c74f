import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { degrees, POINT, type TiffPlan, writeTiff } from './tiff-writer.ts';

export const DATA = '../shared/data';

/** A folder for the tests of one file, removed after them. */
export function tileFolder() {
  const folder = mkdtempSync(join(tmpdir(), 'krummholz-terrain-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  let made = 0;
  const write = (name: string, bytes: Uint8Array): string => {
    const path = join(folder, name);
    writeFileSync(path, bytes);
    return path;
  };
  return {
    folder,
    write,
    /** A file of its own for a plan. */
    tile(plan: TiffPlan, name?: string): string {
      made += 1;
      return write(name ?? `tile${made}.tif`, writeTiff(plan));
    },
  };
}

/** The invented island range: heights of a plane, exact in bilinear interpolation. */
export const planeM = (lonDeg: number, latDeg: number): number =>
  800 + 300 * (lonDeg + 30.2) - 400 * (latDeg - 46.1);

/** A tile of the plane whose posting (0, 0) stands at the north-west given; header as a point raster. */
export function planeTile(
  westDeg: number,
  northDeg: number,
  stepDeg: number,
  width: number,
  height: number,
  more: Partial<TiffPlan> = {},
): TiffPlan {
  return {
    width,
    height,
    sample: 'float64',
    value: (column, row) => planeM(westDeg + column * stepDeg, northDeg - row * stepDeg),
    tiepoint: [0, 0, 0, westDeg, northDeg, 0],
    pixelScale: [stepDeg, stepDeg, 0],
    keys: degrees(POINT),
    nodata: '-9999',
    ...more,
  };
}
