import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { localScale } from '../../src/earth/local-scale.ts';
import { mapFrame } from '../../src/route/map-frame.ts';
import { latticeOver } from '../../src/terrain/lattice.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';

const FRAME = { westDeg: -30.3, eastDeg: -30.2, southDeg: 46.1, northDeg: 46.15 };

describe('heights on a net', () => {
  let surface: Surface;
  beforeAll(async () => {
    surface = await openSurface(['data/demo/dem']);
  });
  afterAll(() => surface.close());

  it('are those that the surface gives for each place, from the north-west corner row by row', async () => {
    const net = await latticeOver(surface, FRAME, 100, 300);
    const { columns, rows, heightsM, stepLonDeg, stepLatDeg } = net;
    expect(heightsM).toHaveLength(columns * rows);
    const places = [0, columns - 1, 5 * columns + 17, columns * rows - 1];
    const { heightsM: wanted } = await surface.heightsAt(
      places.map((i) => FRAME.westDeg + (i % columns) * stepLonDeg),
      places.map((i) => FRAME.northDeg - Math.floor(i / columns) * stepLatDeg),
    );
    places.forEach((i, n) => {
      expect(heightsM[i]).toBeCloseTo(wanted[n] ?? Number.NaN, 2);
    });
    expect(net.sourceIndexes.map((i) => surface.sources[i]?.path.replace(/.*\//, ''))).toContain(
      'corvanney-west.tif',
    );
  });

  it('are as far apart one way as the other, no nearer than asked, and no more than asked', async () => {
    const fine = await latticeOver(surface, FRAME, 100, 300);
    expect(fine.eastM / 100).toBeCloseTo(1, 1);
    expect(fine.southM / fine.eastM).toBeCloseTo(1, 1);
    const coarse = await latticeOver(surface, FRAME, 10, 50);
    expect(Math.max(coarse.columns, coarse.rows)).toBe(50);
  });

  it('are void outside the tiles', async () => {
    const net = await latticeOver(surface, { ...FRAME, westDeg: 10, eastDeg: 10.1 }, 500, 50);
    expect(net.heightsM.every(Number.isNaN)).toBe(true);
    expect(net.sourceIndexes).toEqual([]);
  });

  it('leave room for other work', async () => {
    let turns = 0;
    const count = () => {
      turns += 1;
      handle = setImmediate(count);
    };
    let handle = setImmediate(count);
    await latticeOver(surface, FRAME, 31, 300);
    clearImmediate(handle);
    expect(turns).toBeGreaterThan(3);
  });
});

describe('the frame of a map', () => {
  const lineOf = (...line: (readonly [number, number])[]) => ({ line: [line] });

  it('has room around the line, and is never small nor long', () => {
    const frame = mapFrame([lineOf([-30.2, 46.1], [-30.2, 46.12])]);
    if (frame === null) throw new Error('no frame');
    const scale = localScale(46.11);
    const wide = (frame.eastDeg - frame.westDeg) * scale.mPerDegLon;
    const high = (frame.northDeg - frame.southDeg) * scale.mPerDegLat;
    expect(high).toBeGreaterThan(0.02 * scale.mPerDegLat + 2 * 249);
    expect(high / wide).toBeLessThan(1.36);
    expect(wide).toBeGreaterThan(1999);
  });

  it('takes the near side of the 180° meridian, whatever turn a line is in', () => {
    const frame = mapFrame([lineOf([179.99, -17], [180.01, -17]), lineOf([-179.98, -17.01], [-179.97, -17])]);
    expect(frame?.westDeg).toBeGreaterThan(179.9);
    expect(frame?.eastDeg).toBeLessThan(180.1);
  });

  it('is none where no route has a point', () => {
    expect(mapFrame([])).toBeNull();
    expect(mapFrame([{ line: [] }])).toBeNull();
  });
});
