import { describe, expect, it } from 'vitest';
import { openHgtTile } from '../../src/terrain/hgt-tile.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { tileFolder } from './tile-folder.ts';

const files = tileFolder();

function hgt(side: number, value: (column: number, row: number) => number): Buffer {
  const bytes = Buffer.alloc(side * side * 2);
  for (let row = 0; row < side; row += 1)
    for (let column = 0; column < side; column += 1)
      bytes.writeInt16BE(value(column, row), (row * side + column) * 2);
  return bytes;
}

describe('an SRTM tile', () => {
  it('lies where its name says, north and south, east and west', async () => {
    const corners = {
      'N46W031.hgt': [-31, 46],
      'S02E010.hgt': [10, -2],
      'n46w030.SRTMGL1.HGT': [-30, 46],
    } as const;
    for (const [name, [westDeg, southDeg]] of Object.entries(corners)) {
      const { info } = await openHgtTile(files.write(name, Buffer.alloc(1201 * 1201 * 2)));
      expect(info).toMatchObject({ westDeg, southDeg, northDeg: southDeg + 1, eastDeg: westDeg + 1 });
      expect(info).toMatchObject({ format: 'hgt', unit: 'm', verticalReference: 'EGM96', nodata: -32768 });
    }
  });

  it('is read row by row from the north, also with 3601 postings', async () => {
    const path = files.write(
      'N46W032.hgt',
      hgt(3601, (column, row) => Math.floor(column / 4) + Math.floor(row / 4)),
    );
    const surface = await openSurface([path]);
    const { heightsM } = await surface.heightsAt([-32, -31, -32, -31.5], [47, 47, 46, 46.5]);
    expect(heightsM).toEqual([0, 900, 900, 900]);
  });

  it('is void at −32768, below −500 m and above 9,000 m, and knows 0', async () => {
    const values = [-32768, -501, 9001, 0, -500, 9000];
    const path = files.write(
      'N46W033.hgt',
      hgt(1201, (column) => values[column] ?? 1),
    );
    const surface = await openSurface([path]);
    const lons = values.map((_, column) => -33 + column / 1200);
    const { heightsM } = await surface.heightsAt(
      lons,
      lons.map(() => 46.5),
    );
    expect(heightsM).toEqual([null, null, null, 0, -500, 9000]);
    expect(await surface.voidShare(0)).toBeCloseTo(3 / 1201, 12);
  });

  it('is refused when it is cut short', async () => {
    await expect(openHgtTile(files.write('N46W034.hgt', Buffer.alloc(100_001)))).rejects.toMatchObject({
      code: 'dem-unreadable',
      message: expect.stringMatching(/100001 bytes/),
    });
  });

  it('is refused when its name gives no corner', async () => {
    for (const name of ['summit.hgt', 'N95W030.hgt', 'N46W190.hgt', 'copy of N46W030.hgt'])
      await expect(openHgtTile(files.write(name, Buffer.alloc(1201 * 1201 * 2)))).rejects.toMatchObject({
        code: 'dem-georeference',
      });
  });
});
