import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeFloatTile } from '../../scripts/bench/write-float-tile.ts';
import { randomStream } from '../../scripts/demo-range/random.ts';
import { ERROR_STATUS } from '../../src/errors.ts';
import { mutant } from '../support/mutate-bytes.ts';
import { readWhole, type WholeTile } from '../support/read-tile.ts';
import { writeTiff } from './tiff-writer.ts';
import { planeTile, tileFolder } from './tile-folder.ts';

/*
 * The same with GDAL beside it, and ten thousand of them: npm run fuzz:terrain. Here what can be known without: damage to
 * a block of DEFLATE, whose checksum tells, leaves heights as they were or makes them void; so does a cut anywhere in a
 * file whose header stands first.
 */

const files = tileFolder();
const floats = (packing: 'deflate' | 'lzw'): Buffer => {
  const path = join(files.folder, `${packing}.tif`);
  writeFloatTile(path, {
    westDeg: -30,
    northDeg: 46,
    stepDeg: 0.001,
    side: 40,
    blockSide: 16,
    packing,
    height: (column, row) => 500 + column * 3.5 - row * 1.25,
    isWritten: () => true,
  });
  return readFileSync(path);
};
const BASES: Readonly<Record<string, Buffer>> = {
  deflate: floats('deflate'),
  lzw: floats('lzw'),
  strips: writeTiff(planeTile(-30, 46, 0.01, 30, 20, { compression: 8, rowsPerStrip: 5, sample: 'int16' })),
  big: writeTiff(planeTile(-30, 46, 0.01, 30, 20, { littleEndian: false, rowsPerStrip: 7 })),
};
// In files of both writers the blocks stand before the directory, whose place the header names.
const directoryAt = (bytes: Buffer): number =>
  bytes[0] === 0x49 ? bytes.readUInt32LE(4) : bytes.readUInt32BE(4);

async function read(bytes: Buffer): Promise<WholeTile> {
  const path = join(files.folder, 'mutant.tif');
  writeFileSync(path, bytes);
  return readWhole(path);
}

describe('a damaged GeoTIFF', () => {
  it('is refused in words or read, without a crash: 300 mutants', async () => {
    const random = randomStream(6, 'mutants');
    const names = Object.keys(BASES);
    let refused = 0;
    for (let i = 0; i < 300; i += 1) {
      const name = names[i % names.length] ?? '';
      const { bytes } = mutant(BASES[name] ?? Buffer.alloc(0), random);
      const found = await read(bytes);
      if (!('code' in found)) continue;
      refused += 1;
      expect(ERROR_STATUS).toHaveProperty(found.code);
      expect(found.message.length).toBeGreaterThan(20);
    }
    expect(refused).toBeGreaterThan(50);
  });

  it('gives the heights of the whole one or void where a checksum guards its blocks: 200 mutants', async () => {
    const random = randomStream(7, 'mutant blocks');
    for (const name of ['deflate', 'strips']) {
      const base = BASES[name] ?? Buffer.alloc(0);
      const whole = await read(base);
      for (let i = 0; i < 100; i += 1) {
        const { bytes, what } = mutant(base, random, 8, directoryAt(base));
        // A cut takes the directory away, which stands last here.
        if (bytes.length !== base.length) continue;
        const found = await read(bytes);
        if ('code' in found || 'code' in whole) {
          expect(found, what).toMatchObject({ code: 'dem-unreadable' });
          continue;
        }
        found.heightsM.forEach((height, k) => {
          if (!Number.isNaN(height)) expect(height, what).toBe(whole.heightsM[k]);
        });
      }
    }
  });

  it('that claims blocks of 4,096² over a few bytes costs no more than one such block', async () => {
    const bytes = Buffer.from(BASES.deflate ?? '');
    const directory = directoryAt(bytes);
    for (let at = directory + 2; at < directory + 2 + 16 * 12; at += 12)
      if ([322, 323].includes(bytes.readUInt16LE(at))) bytes.writeUInt32LE(4096, at + 8);
    const found = await read(bytes);
    expect(found).toMatchObject({ code: 'dem-unreadable' });
    // One more, and it is refused before anything is unpacked.
    for (let at = directory + 2; at < directory + 2 + 16 * 12; at += 12)
      if (bytes.readUInt16LE(at) === 322) bytes.writeUInt32LE(4112, at + 8);
    expect(await read(bytes)).toMatchObject({ message: expect.stringMatching(/blocks of 4112 × 4096/) });
  });

  it('whose directory names a tag twice, or with a type that it cannot have, is refused', async () => {
    const twice = Buffer.from(BASES.strips ?? '');
    const directory = directoryAt(twice);
    twice.writeUInt16LE(256, directory + 2 + 2 * 12);
    expect(await read(twice)).toMatchObject({ message: expect.stringMatching(/tag 256 twice/) });
    const typed = Buffer.from(BASES.strips ?? '');
    typed.writeUInt16LE(5, directory + 2 + 12 + 2);
    expect(await read(typed)).toMatchObject({ message: expect.stringMatching(/damaged at tag 256/) });
  });

  it('whose GeoKeys do not hold together is refused: other programs read none of them, half a cell away', async () => {
    const bytes = Buffer.from(BASES.strips ?? '');
    // The number of keys, after version 1.1.0.
    const keys = bytes.indexOf(Buffer.from([1, 0, 1, 0, 0, 0, 3, 0]));
    bytes.writeUInt16LE(200, keys + 6);
    expect(await read(bytes)).toMatchObject({
      code: 'dem-georeference',
      message: expect.stringMatching(/GeoKeys/),
    });
  });
});
