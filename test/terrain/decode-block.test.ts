import { deflateSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deflateLzw } from '../../scripts/bench/write-float-tile.ts';
import { type BlockCoding, COMPRESSION, decodeBlock } from '../../src/terrain/decode-block.ts';
import { decode } from '../../src/terrain/decode-pool.ts';
import { inflateLzw } from '../../src/terrain/lzw.ts';
import { inflatePackBits } from '../../src/terrain/pack-bits.ts';

/*
 * Kinds of number, packings and predictors as GDAL writes them, 240 of them: npm run truth:terrain. Here the laws that
 * hold without GDAL.
 */

const coding = (more: Partial<BlockCoding> = {}): BlockCoding => ({
  kind: 'float',
  bits: 32,
  littleEndian: true,
  nodata: -9999,
  usualVoids: false,
  scale: 1,
  offset: 0,
  mPerUnit: 1,
  compression: COMPRESSION.none,
  predictor: 1,
  lercPacking: 0,
  blockWidth: 4,
  blockHeight: 2,
  ...more,
});
const WHOLE = { columns: 4, rows: 2, rowsHeld: 2 };
const bytesOf = (values: Float32Array | Int16Array | Float64Array): ArrayBuffer =>
  new Uint8Array(values.buffer, values.byteOffset, values.byteLength).slice().buffer;
const HEIGHTS = Float32Array.of(1, 2.5, -9999, 4, 5, 6, 7, 9500);
const KNOWN = [1, 2.5, Number.NaN, 4, 5, 6, 7, Number.NaN];

describe('LZW', () => {
  it('undoes what a writer of the specification makes, of any bytes', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(255), fc.integer({ min: 1, max: 300 })), { maxLength: 200 }),
        (runs) => {
          // Runs meet the newest string before it is whole; many of them fill the table and clear it.
          const bytes = Uint8Array.from(
            runs.flatMap(([byte, length]) => new Array<number>(length).fill(byte)),
          );
          expect(Buffer.compare(inflateLzw(deflateLzw(bytes), bytes.length), bytes)).toBe(0);
        },
      ),
      { seed: 6, numRuns: 60 },
    );
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 20_000, size: 'max' }), (bytes) => {
        expect(Buffer.compare(inflateLzw(deflateLzw(bytes), bytes.length), bytes)).toBe(0);
      }),
      { seed: 7, numRuns: 20 },
    );
  });

  it('reads the example of TIFF 6.0, section 13', () => {
    // 7 7 7 8 8 7 7 6 6: codes 256 7 258 8 8 258 6 6 257, nine bits each.
    const codes = [256, 7, 258, 8, 8, 258, 6, 6, 257];
    const bits = codes.map((code) => code.toString(2).padStart(9, '0')).join('');
    const bytes = Uint8Array.from(bits.match(/.{1,8}/g) ?? [], (byte) =>
      Number.parseInt(byte.padEnd(8, '0'), 2),
    );
    expect([...inflateLzw(bytes, 9)]).toEqual([7, 7, 7, 8, 8, 7, 7, 6, 6]);
  });

  it('undoes a string as long as the table allows, and large blocks between small ones', () => {
    const [long, small] = [new Uint8Array(17_000_000).fill(9), Uint8Array.of(1, 2, 3)];
    expect(inflateLzw(deflateLzw(small), 3)).toEqual(small);
    expect(Buffer.compare(inflateLzw(deflateLzw(long), long.length), long)).toBe(0);
    expect(inflateLzw(deflateLzw(small), 3)).toEqual(small);
  });

  it('gives no more than it was asked for, and says when codes cannot be or end early', () => {
    const packed = deflateLzw(new Uint8Array(5000).fill(3));
    expect(inflateLzw(packed, 100)).toEqual(new Uint8Array(100).fill(3));
    expect(() => inflateLzw(packed.subarray(0, 20), 5000)).toThrow(/ends after/);
    expect(() => inflateLzw(Uint8Array.of(0x80, 0x7f, 0xff, 0xff), 10)).toThrow(/damaged/);
    expect(() => inflateLzw(new Uint8Array(0), 10)).toThrow(/ends after/);
  });
});

describe('PackBits', () => {
  it('reads the example of TIFF 6.0, section 9, and takes the byte 128 for nothing', () => {
    const packed = [
      0xfe, 0xaa, 0x02, 0x80, 0x00, 0x2a, 0xfd, 0xaa, 0x80, 0x03, 0x80, 0x00, 0x2a, 0x22, 0xf7, 0xaa,
    ];
    expect(Buffer.from(inflatePackBits(Uint8Array.from(packed), 24)).toString('hex')).toBe(
      'aaaaaa80002aaaaaaaaa80002a22aaaaaaaaaaaaaaaaaaaa',
    );
  });

  it('stops where the input or the room ends', () => {
    expect(inflatePackBits(Uint8Array.of(0x81), 10)).toHaveLength(0);
    expect(inflatePackBits(Uint8Array.of(0x81, 7), 10)).toEqual(new Uint8Array(10).fill(7));
    expect(inflatePackBits(Uint8Array.of(0x05, 1, 2), 10)).toEqual(Uint8Array.of(1, 2));
  });
});

describe('a block', () => {
  it('becomes heights, void where the file says so and where no ground is', async () => {
    for (const [compression, bytes] of [
      [COMPRESSION.none, bytesOf(HEIGHTS)],
      [COMPRESSION.deflate, new Uint8Array(deflateSync(Buffer.from(bytesOf(HEIGHTS)))).buffer],
      [COMPRESSION.lzw, deflateLzw(new Uint8Array(bytesOf(HEIGHTS))).slice().buffer],
    ] as const)
      expect([...(await decodeBlock(bytes, coding({ compression }), WHOLE))]).toEqual(KNOWN);
  });

  it('is void beyond the grid', async () => {
    const part = { columns: 2, rows: 1, rowsHeld: 2 };
    const nothing = new Array<number>(6).fill(Number.NaN);
    expect([...(await decodeBlock(bytesOf(HEIGHTS), coding(), part))]).toEqual([1, 2.5, ...nothing]);
    const whole = bytesOf(Int16Array.of(1, 2, 3, 4, 5, 6, 7, 8));
    expect([...(await decodeBlock(whole, coding({ kind: 'int', bits: 16 }), part))]).toEqual([
      1,
      2,
      ...nothing,
    ]);
  });

  it('is kept in 32 bits only where nothing is lost by it', async () => {
    const kind = async (more: Partial<BlockCoding>, values: Float32Array | Int16Array | Float64Array) =>
      (await decodeBlock(bytesOf(values), coding(more), WHOLE)).constructor;
    const whole = new Int16Array(8).fill(3);
    expect(await kind({}, HEIGHTS)).toBe(Float32Array);
    expect(await kind({ kind: 'int', bits: 16 }, whole)).toBe(Float32Array);
    expect(await kind({ bits: 64 }, new Float64Array(8))).toBe(Float64Array);
    expect(await kind({ mPerUnit: 0.3048 }, HEIGHTS)).toBe(Float64Array);
    expect(await kind({ kind: 'int', bits: 16, scale: 0.1 }, whole)).toBe(Float64Array);
  });

  it('undoes predictor 2 in both byte orders, and in 64 bits', async () => {
    const differences = Int16Array.of(100, 1, 1, 1, -5, 2, 2, 2);
    const known = [100, 101, 102, 103, -5, -3, -1, 1];
    const of = { kind: 'int', bits: 16, predictor: 2 } as const;
    expect([...(await decodeBlock(bytesOf(differences), coding(of), WHOLE))]).toEqual(known);
    const big = Buffer.from(bytesOf(differences)).swap16();
    expect([
      ...(await decodeBlock(new Uint8Array(big).buffer, coding({ ...of, littleEndian: false }), WHOLE)),
    ]).toEqual(known);
    const doubles = Float64Array.of(1, 2, 3, 4, 5, 6, 7, 8);
    const bits = new BigUint64Array(doubles.slice().buffer);
    for (const at of [7, 6, 5, 3, 2, 1]) bits[at] = (bits[at] ?? 0n) - (bits[at - 1] ?? 0n);
    expect([
      ...(await decodeBlock(bits.buffer as ArrayBuffer, coding({ bits: 64, predictor: 2 }), WHOLE)),
    ]).toEqual([...doubles]);
  });

  it('undoes predictor 3 of any floats, single and double', async () => {
    const height = fc.float({ min: -400, max: 8800, noNaN: true }).map((value) => value + 0);
    // Rows of any width: sixteen columns are done at once.
    const drawn = fc
      .integer({ min: 1, max: 70 })
      .chain((width) =>
        fc.tuple(
          fc.constant(width),
          fc.array(height, { minLength: 3 * width, maxLength: 3 * width }),
          fc.constantFrom<32 | 64>(32, 64),
        ),
      );
    await fc.assert(
      fc.asyncProperty(drawn, async ([width, values, bits]) => {
        const samples = bits === 32 ? Float32Array.from(values) : Float64Array.from(values);
        const bytesEach = bits / 8;
        const raw = new Uint8Array(samples.buffer);
        const packed = new Uint8Array(raw.length);
        for (let row = 0; row < 3; row += 1) {
          const start = row * width * bytesEach;
          for (let i = 0; i < width; i += 1)
            for (let b = 0; b < bytesEach; b += 1)
              packed[start + (bytesEach - 1 - b) * width + i] = raw[start + i * bytesEach + b] ?? 0;
          for (let i = width * bytesEach - 1; i > 0; i -= 1)
            packed[start + i] = (packed[start + i] ?? 0) - (packed[start + i - 1] ?? 0);
        }
        const got = await decodeBlock(
          packed.buffer,
          coding({ bits, predictor: 3, blockWidth: width, blockHeight: 3 }),
          {
            columns: width,
            rows: 3,
            rowsHeld: 3,
          },
        );
        expect([...got]).toEqual([...samples]);
      }),
      { seed: 8, numRuns: 120 },
    );
  });

  it('that unpacks to more or less than its header says is an error, and never more memory', async () => {
    const bomb = deflateSync(Buffer.alloc(50_000_000));
    const deflate = coding({ compression: COMPRESSION.deflate });
    await expect(decodeBlock(new Uint8Array(bomb).buffer, deflate, WHOLE)).rejects.toThrow();
    const short = deflateSync(Buffer.alloc(31));
    await expect(decodeBlock(new Uint8Array(short).buffer, deflate, WHOLE)).rejects.toThrow(
      /31 bytes where 32/,
    );
    for (const compression of [COMPRESSION.zstd, COMPRESSION.lerc, COMPRESSION.lzw, COMPRESSION.packBits])
      await expect(decodeBlock(new ArrayBuffer(20), coding({ compression }), WHOLE)).rejects.toThrow();
  });
});

describe('a large block', () => {
  it('is unpacked in a thread, to the same heights, and an error comes back as one', async () => {
    const side = 256;
    const heights = Float32Array.from({ length: side * side }, (_, i) => 500 + (i % 977) / 8);
    const large = coding({ compression: COMPRESSION.lzw, blockWidth: side, blockHeight: side });
    const extent = { columns: side, rows: side, rowsHeld: side };
    const packed = deflateLzw(new Uint8Array(bytesOf(heights)));
    const many = await Promise.all(
      Array.from({ length: 6 }, () => decode(packed.slice().buffer, large, extent)),
    );
    for (const got of many) expect(got).toEqual(heights);
    await expect(decode(packed.slice(0, 500).buffer, large, extent)).rejects.toThrow(/ends after/);
    expect(await decode(packed.slice().buffer, large, extent)).toEqual(heights);
  });
});
