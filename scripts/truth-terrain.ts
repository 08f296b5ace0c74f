/**
 * Heights against outside references: npm run truth:terrain (-- --json). Every file of ../shared/data/dem-variants at
 * 5,000 places drawn from a seed against the tile they were made from, and, where GDAL is installed for Python, against
 * GDAL on the same file. A variant is right, or refused by name; a wrong height ends the script with 1.
 */
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { openSurface } from '../src/terrain/tile-set.ts';
import { openPythonReference, type PythonReference } from './bench/python-reference.ts';
import { type BenchRow, median, report } from './bench/report.ts';
import { sized } from './bench/size.ts';
import { randomStream } from './demo-range/random.ts';

if (!existsSync('../shared/data')) {
  process.stdout.write(
    'truth:terrain is left out: the real tiles are not beside this checkout (../shared/data)\n',
  );
  process.exit(0);
}

const DATA = '../shared/data';
const VARIANTS = join(DATA, 'dem-variants');
const ORIGINAL = join(DATA, 'dem/N44W072.hgt');
const PLACES = sized(5000, 200);
/** What a variant may differ from the original by, metres: those on other postings are resampled. */
const EXACT_M = 1e-6;
const RESAMPLED: ReadonlyMap<string, string> = new Map([
  ['whites_utm19n_90m_i16.tif', 'resampled to 90 m in UTM and rounded'],
  ['whites_3857_i16_lzw.tif', 'resampled in EPSG:3857 and rounded'],
]);
/** Half of them agree as well as rounding and resampling allow; a grid half a cell off would differ by some 15 m (design). */
const RESAMPLED_MEDIAN_M = 3;
/** GDAL 3.6.2 reads garbage from these when it wrote them itself. */
const UNCLEAR = /(LERC|-3-).*BIG/;
const ANYWHERE = { westDeg: 0, eastDeg: 0, southDeg: 0, northDeg: 0 };
const FEET = 'whites_f32_FEET_deflate.tif';

if (!existsSync(VARIANTS)) {
  process.stderr.write('../shared/data is not beside this checkout: nothing to check\n');
  process.exit(0);
}

const { uniform } = randomStream(6, 'truth terrain');
const lons = Array.from({ length: PLACES }, () => -71.7485 + 0.5965 * uniform());
const lats = Array.from({ length: PLACES }, () => 44.1015 + 0.297 * uniform());
type Known = readonly (number | null)[];

function differences(a: Known, b: Known): number[] {
  return a.map((height, i) => {
    const other = b[i] ?? null;
    if (height === null && other === null) return 0;
    return height === null || other === null ? Number.POSITIVE_INFINITY : Math.abs(height - other);
  });
}

const original = (await (await openSurface([ORIGINAL])).heightsAt(lons, lats)).heightsM;
const reference = await openPythonReference('gdal_reference.py');
if (reference === null)
  process.stderr.write('GDAL is not installed for Python: the original alone is checked\n');
const rows: BenchRow[] = [];
const wrong: string[] = [];
const say = (
  name: string,
  what: string,
  found: readonly number[],
  allowedM: number,
  of: 'most' | 'middle',
) => {
  const ours = of === 'most' ? Math.max(...found) : median(found);
  rows.push({ case: `${name}: ${of} difference`, ours, reference: allowedM, unit: 'm', referenceIs: what });
  if (!(ours <= allowedM)) wrong.push(`${name}: ${ours} m ${what}`);
};

for (const name of [...readdirSync(VARIANTS)].sort()) {
  const path = join(VARIANTS, name);
  const surface = await openSurface([path]).catch((error: Error) => error);
  if (surface instanceof Error) {
    rows.push({
      case: `${name}: refused`,
      ours: 0,
      reference: null,
      unit: 'm',
      referenceIs: surface.message,
    });
    continue;
  }
  // Covers other ground: checked in the tests.
  if (name === 'nodata_3x3_f32.tif') continue;
  const { heightsM } = await surface.heightsAt(lons, lats);
  const metres =
    name === FEET ? heightsM.map((height) => (height === null ? null : height * 0.3048)) : heightsM;
  const resampled = RESAMPLED.get(name);
  if (resampled !== undefined)
    say(name, `allowed: ${resampled}`, differences(metres, original), RESAMPLED_MEDIAN_M, 'middle');
  else {
    // Feet were rounded to 32 bits when the file was made; no unit tag: taken for metres, and noted.
    const allowedM = name === FEET ? 0.001 : EXACT_M;
    say(name, 'allowed, of the original', differences(metres, original), allowedM, 'most');
  }
  if (reference !== null && /\.tif$/.test(name)) {
    const gdal = await reference.ask<{ heights: Known }>({ ask: 'heights', path, lons, lats });
    say(name, `allowed, of ${reference.name}`, differences(heightsM, gdal.heights), EXACT_M, 'most');
  }
}
if (reference !== null) await checkEveryKind(reference);
report('terrain', rows, 'truth');
reference?.close();
if (wrong.length > 0) {
  process.stderr.write(`wrong heights:\n${wrong.join('\n')}\n`);
  process.exitCode = 1;
}

/** A corner of the original as GDAL writes it in each packing, kind of number, layout and byte order, read by both. */
async function checkEveryKind({ ask, name }: PythonReference): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'krummholz-truth-'));
  try {
    const { made, left } = await ask<{ made: string[]; left: string[] }>({
      ask: 'make',
      source: ORIGINAL,
      folder,
    });
    const refused: string[] = [];
    const found: number[] = [];
    for (const path of made) {
      const surface = await openSurface([path]).catch((error: Error) => error);
      if (surface instanceof Error) {
        refused.push(basename(path));
        if (!UNCLEAR.test(path)) wrong.push(`${basename(path)} is refused: ${surface.message}`);
        continue;
      }
      const { westDeg, eastDeg, southDeg, northDeg } = surface.sources[0] ?? ANYWHERE;
      const some = Array.from({ length: 300 }, () => [
        westDeg + (eastDeg - westDeg) * uniform(),
        southDeg + (northDeg - southDeg) * uniform(),
      ]) as [number, number][];
      const [xs, ys] = [some.map(([lonDeg]) => lonDeg), some.map(([, latDeg]) => latDeg)];
      const ours = (await surface.heightsAt(xs, ys)).heightsM;
      const gdal = await ask<{ heights: Known }>({ ask: 'heights', path, lons: xs, lats: ys });
      const most = Math.max(...differences(ours, gdal.heights));
      if (!(most <= EXACT_M)) wrong.push(`${basename(path)}: ${most} m allowed, of ${name}`);
      found.push(most);
      await surface.close();
    }
    rows.push({
      case: `${found.length} kinds of file: most difference`,
      ours: Math.max(...found),
      reference: EXACT_M,
      unit: 'm',
      referenceIs: `allowed, of ${name}; ${refused.length} big-endian ones with LERC or predictor 3 refused, ${left.length} that it cannot write`,
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
