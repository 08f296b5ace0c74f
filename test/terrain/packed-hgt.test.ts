import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { deflateRawSync, gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { DATA, tileFolder } from './tile-folder.ts';
import { writeZip } from './zip-writer.ts';

const files = tileFolder();

/** A 3″ tile that rises a metre every 40 postings to the east. */
function hgt(): Buffer {
  const bytes = Buffer.alloc(1201 * 1201 * 2);
  for (let i = 0; i < 1201 * 1201; i += 1) bytes.writeInt16BE(Math.floor((i % 1201) / 40), i * 2);
  return bytes;
}
const heightsOf = async (path: string) => {
  const surface = await openSurface([path]);
  const { heightsM } = await surface.heightsAt([-31, -30.5, -30], [46.5, 46.25, 46.9]);
  return heightsM;
};

describe('a packed SRTM tile', () => {
  it('gives the heights of the tile inside, gzipped or zipped, whatever stands beside it in the zip', async () => {
    const plain = files.write('N46W031.hgt', hgt());
    const gz = files.write('N46W031.hgt.gz', gzipSync(hgt()));
    const zip = files.write(
      'N46W031.SRTMGL3.hgt.zip',
      writeZip([
        ['readme.txt', Buffer.from('hello')],
        ['N46W031.hgt', hgt()],
      ]),
    );
    const wanted = await heightsOf(plain);
    expect(wanted).toEqual([0, 15, 30]);
    expect(await heightsOf(gz)).toEqual(wanted);
    expect(await heightsOf(zip)).toEqual(wanted);
  });

  it('is refused where it unpacks to more than a tile has', async () => {
    const bomb = gzipSync(Buffer.alloc(60_000_000));
    const zipped = writeZip([['N46W032.hgt', Buffer.alloc(60_000_000)]]);
    // A zip that lies about its size: the stated size is a tile's.
    const lying = writeZip([['N46W032.hgt', Buffer.alloc(60_000_000)]], 1201 * 1201 * 2);
    for (const [name, bytes] of [
      ['N46W032.hgt.gz', bomb],
      ['N46W032.hgt.zip', zipped],
      ['N46W033.hgt.zip', lying],
    ] as const) {
      await expect(openSurface([files.write(name, bytes)])).rejects.toMatchObject({
        code: 'dem-none',
        message: expect.stringMatching(/unpack/),
      });
    }
  });

  it('is refused where it is cut short, holds no tile, several tiles or one of another size', async () => {
    const short = gzipSync(hgt()).subarray(0, 1000);
    const none = writeZip([['readme.txt', Buffer.from('hello')]]);
    const two = writeZip([
      ['N46W031.hgt', Buffer.alloc(10)],
      ['N46W032.hgt', Buffer.alloc(10)],
    ]);
    for (const [name, bytes, why] of [
      ['N47W031.hgt.gz', short, /cannot be unpacked/],
      ['N47W032.hgt.zip', none, /holds no \.hgt/],
      ['N47W033.hgt.zip', two, /several/],
      ['N47W034.hgt.gz', gzipSync(Buffer.alloc(500)), /500 bytes/],
      ['N47W035.hgt.zip', deflateRawSync(Buffer.alloc(500)), /cannot be unpacked/],
    ] as const) {
      await expect(openSurface([files.write(name, bytes)])).rejects.toMatchObject({
        message: expect.stringMatching(why),
      });
    }
  });

  it.skipIf(!existsSync(DATA))(
    'reads the real gzipped tile like the plain one (needs ../shared/data)',
    async () => {
      const places: [number[], number[]] = [
        [-71.3, -71.31, -71.9],
        [44.27, 44.26, 44.1],
      ];
      const plain = await openSurface([join(DATA, 'dem/N44W072.hgt')]);
      const packed = await openSurface([join(DATA, 'dem-variants/N44W072.hgt.gz')]);
      expect((await packed.heightsAt(...places)).heightsM).toEqual(
        (await plain.heightsAt(...places)).heightsM,
      );
    },
  );
});
