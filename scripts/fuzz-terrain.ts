/**
 * Damaged tiles: npm run fuzz:terrain (-- COUNT SEED FOLDER, where faulty ones are kept). Bytes flipped, cut, copied and overwritten in small GeoTIFFs of
 * every packing: each is refused in words, or gives void or the heights that GDAL reads from the same bytes, at the
 * place where GDAL puts them. No crash, nothing longer than 2 s, no memory over 1 GB.
 */
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { M_PER_HEIGHT_UNIT } from '../src/terrain/vertical.ts';
import { mutant } from '../test/support/mutate-bytes.ts';
import { readWhole, type WholeTile } from '../test/support/read-tile.ts';
import { type TiffPlan, writeTiff } from '../test/terrain/tiff-writer.ts';
import { openPythonReference } from './bench/python-reference.ts';
import { sized } from './bench/size.ts';
import { writeFloatTile } from './bench/write-float-tile.ts';
import { randomStream } from './demo-range/random.ts';

const [COUNT_ASKED, SEED_ASKED, FOLDER_ASKED] = process.argv
  .slice(2)
  .filter((text) => !text.startsWith('--'));
const COUNT = Number(COUNT_ASKED ?? sized(10_000, 100));
const SEED = Number(SEED_ASKED ?? 1);
const KEEP = FOLDER_ASKED ?? null;
const BATCH = 100;
const LONGEST_MS = 2000;
const MOST_RSS = 2 ** 30;
/** GDAL's values pass through JSON and our unit and scale. */
const SAME = 1e-6;

interface Dumped {
  readonly error?: string;
  readonly values: readonly (number | null)[];
  readonly place: readonly number[] | null;
  readonly width: number;
  readonly height: number;
  readonly scale: number | null;
  readonly offset: number | null;
  readonly code: string | null;
}

const folder = mkdtempSync(join(tmpdir(), 'krummholz-fuzz-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
const reference = await openPythonReference('gdal_reference.py');
if (reference === null)
  process.stderr.write('GDAL is not installed for Python: only crashes, hangs and memory are watched\n');
const random = randomStream(SEED, 'fuzz terrain');

const bases = new Map<string, Buffer>();
for (const packing of ['deflate', 'lzw'] as const) {
  const path = join(folder, `${packing}.tif`);
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
  bases.set(`${packing}-3`, readFileSync(path));
}
const plan: TiffPlan = {
  width: 30,
  height: 20,
  value: (column, row) => 500 + column * 3 - row * 2,
  tiepoint: [0, 0, 0, -30, 46, 0],
  pixelScale: [0.001, 0.001, 0],
  nodata: '-9999',
  metadata:
    '<GDALMetadata><Item name="SCALE" sample="0" role="scale">0.5</Item><Item name="OFFSET" sample="0" role="offset">100</Item></GDALMetadata>',
};
bases.set('strips', writeTiff({ ...plan, compression: 8, rowsPerStrip: 5, sample: 'int16' }));
bases.set('big', writeTiff({ ...plan, littleEndian: false, rowsPerStrip: 7 }));
if (reference !== null) {
  const { made } = await reference.ask<{ made: string[] }>({
    ask: 'make',
    source: join(folder, 'lzw.tif'),
    folder,
    window: [0, 0, 40, 40],
  });
  for (const path of made) bases.set(basename(path, '.tif'), readFileSync(path));
}
const names = [...bases.keys()];
const whole = new Map<string, WholeTile>();
for (const [name, bytes] of bases) {
  const path = join(folder, 'whole.tif');
  writeFileSync(path, bytes);
  whole.set(name, await readWhole(path));
}
const NOTHING: WholeTile = { code: 'none', message: '' };

const tally = { refused: 0, read: 0, partly: 0 };
const faults: string[] = [];
let longestMs = 0;

/** Whether a damaged file gives the heights of the whole one, or void. */
function isUnchanged(ours: WholeTile, base: WholeTile): boolean {
  if ('code' in ours || 'code' in base) return false;
  const [a, b] = [ours.tile, base.tile];
  return (
    a.width === b.width &&
    a.height === b.height &&
    a.x0 === b.x0 &&
    a.y0 === b.y0 &&
    a.dx === b.dx &&
    a.dy === b.dy &&
    ours.heightsM.every((height, i) => Number.isNaN(height) || height === base.heightsM[i])
  );
}

/** What of our answer is not GDAL's; `null`: nothing. */
function differs(ours: WholeTile, gdal: Dumped, base: WholeTile): string | null {
  if ('code' in ours || ours.heightsM.every(Number.isNaN)) return null;
  const { tile, heightsM } = ours;
  // It stops at tags that are not needed: what is as before is right.
  if (gdal.error !== undefined && isUnchanged(ours, base)) return null;
  if (gdal.error !== undefined) return `GDAL refuses it (${gdal.error.slice(0, 80)})`;
  if (gdal.width !== tile.width || gdal.height !== tile.height)
    return `GDAL has ${gdal.width} × ${gdal.height}`;
  const [gx = 0, gdx = 0, , gy = 0, , gdy = 0] = gdal.place ?? [];
  const off = Math.max(
    Math.abs(gx + gdx / 2 - tile.x0) / tile.dx,
    Math.abs(gy + gdy / 2 - tile.y0) / Math.abs(tile.dy),
  );
  if (!(off < 1e-6)) return `GDAL puts it at ${gx}, ${gy} by ${gdx}, ${gdy}; we at ${tile.x0}, ${tile.y0}`;
  if (gdal.code !== null && `EPSG:${gdal.code}` !== tile.info.crs) return `GDAL reads EPSG:${gdal.code}`;
  const mPerUnit = M_PER_HEIGHT_UNIT[tile.info.unit];
  for (const [i, heightM] of heightsM.entries()) {
    if (Number.isNaN(heightM)) continue;
    const value = gdal.values[i] ?? null;
    if (value === null) return `GDAL has nothing at ${i}, we ${heightM} m`;
    const theirs = (value * (gdal.scale ?? 1) + (gdal.offset ?? 0)) * mPerUnit;
    if (!(Math.abs(theirs - heightM) <= SAME * Math.max(1, Math.abs(heightM))))
      return `GDAL has ${theirs} m at ${i}, we ${heightM} m`;
  }
  return null;
}

for (let done = 0; done < COUNT; done += BATCH) {
  const batch: { path: string; title: string; base: string; ours: WholeTile }[] = [];
  for (let i = 0; i < Math.min(BATCH, COUNT - done); i += 1) {
    const name = names[Math.floor(random.uniform() * names.length)] ?? '';
    const { bytes, what } = mutant(bases.get(name) ?? Buffer.alloc(0), random);
    const path = join(folder, `mutant${i}.tif`);
    writeFileSync(path, bytes);
    const title = `${done + i} ${name}: ${what}`;
    const from = performance.now();
    try {
      batch.push({ path, title, base: name, ours: await readWhole(path) });
    } catch (error) {
      faults.push(`${title}: ${String(error)}`);
    }
    const ms = performance.now() - from;
    longestMs = Math.max(longestMs, ms);
    if (ms > LONGEST_MS) faults.push(`${title}: took ${ms.toFixed(0)} ms`);
    if (process.memoryUsage().rss > MOST_RSS)
      faults.push(`${title}: ${process.memoryUsage().rss} bytes held`);
  }
  const gdal = await reference?.ask<{ answers: Dumped[] }>({
    ask: 'dump',
    paths: batch.map(({ path }) => path),
  });
  for (const [i, { title, base, ours }] of batch.entries()) {
    if ('code' in ours) tally.refused += 1;
    else if (ours.badBlocks > 0) tally.partly += 1;
    else tally.read += 1;
    const theirs = gdal?.answers[i];
    const difference = theirs === undefined ? null : differs(ours, theirs, whole.get(base) ?? NOTHING);
    if (difference === null) continue;
    faults.push(`${title}: ${difference}`);
    if (KEEP !== null) copyFileSync(batch[i]?.path ?? '', join(KEEP, `${done + i}.tif`));
  }
}
reference?.close();
process.stdout.write(
  `fuzz:terrain, ${COUNT} mutants of ${bases.size} files, seed ${SEED}: ${tally.refused} refused, ${tally.partly} read in part, ${tally.read} read; longest ${longestMs.toFixed(0)} ms, ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB at most; against ${reference?.name ?? 'no reference'}: ${faults.length} faults\n`,
);
for (const fault of faults.slice(0, 40)) process.stdout.write(`${fault}\n`);
if (faults.length > 0) process.exitCode = 1;
