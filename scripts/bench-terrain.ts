/**
 * Heights of 20,000 places along a line: npm run bench:terrain (-- --json). Files are made from a seed in the system's
 * folder for temporary files. Cold: the file is opened anew and every block is unpacked; warm: from unpacked blocks. The
 * reference is GDAL read block by block with numpy in one Python process, in turn with ours, each asked as often as the
 * other. Beside the longest stall of the event loop stands that of an idle loop, in the same time before each round, with
 * two threads that only spin: what the machine itself does to a loop beside two busy threads.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { openSurface } from '../src/terrain/tile-set.ts';
import { openPythonReference } from './bench/python-reference.ts';
import { type BenchRow, median, report } from './bench/report.ts';
import { sized } from './bench/size.ts';
import { spinning } from './bench/spinning.ts';
import { type FloatTile, writeFloatTile } from './bench/write-float-tile.ts';
import { randomStream } from './demo-range/random.ts';

const SEED = 6;
const PLACES = sized(20_000, 500);
const STEP_M = 20;
const ROUNDS = sized(7, 1);
const WARM_REPEATS = 5;
const BLOCK = 512;
/** Of the idle loop before the first round, which nothing counts. */
const FIRST_IDLE_MS = 50;
const WEST = -106;
const NORTH = 41;

/** A line that wanders over the tile: a walk of 400 km, as long as a season's routes. */
function line(sideDeg: number): { readonly lons: number[]; readonly lats: number[] } {
  const { uniform } = randomStream(SEED, 'bench line');
  const lons: number[] = [];
  const lats: number[] = [];
  let [x, y, heading] = [sideDeg / 2, sideDeg / 2, 0];
  const stepDeg = STEP_M / 111_000;
  for (let i = 0; i < PLACES; i += 1) {
    heading += (uniform() - 0.5) * 0.35;
    const [nextX, nextY] = [x + Math.cos(heading) * stepDeg * 1.3, y + Math.sin(heading) * stepDeg];
    const isInside = Math.min(nextX, nextY) > 0.01 && Math.max(nextX, nextY) < sideDeg - 0.01;
    if (!isInside) heading += Math.PI / 2;
    else [x, y] = [nextX, nextY];
    lons.push(WEST + x);
    lats.push(NORTH - y);
  }
  return { lons, lats };
}

/** Ridges and hollows with a receiver's-worth of roughness in the last digits, so that they pack as real ones do. */
function groundM(column: number, row: number, stepDeg: number): number {
  const [x, y] = [column * stepDeg * 40, row * stepDeg * 40];
  const hills =
    Math.sin(x) * Math.cos(y * 0.8) * 500 + Math.sin(x * 7.3 + y * 2.1) * 60 + Math.sin(y * 19) * 12;
  const rough = Math.sin(column * 12.9898 + row * 78.233) * 43758.5453;
  return 2500 + hills + (rough - Math.floor(rough)) * 0.8;
}

const folder = mkdtempSync(join(tmpdir(), 'krummholz-bench-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

function makeTile(side: number, packing: FloatTile['packing']) {
  const stepDeg = side === 3601 ? 1 / 3600 : 1 / 10_800;
  const { lons, lats } = line(side * stepDeg);
  const touched = new Set(
    lons.flatMap((lon, i) => {
      const column = (lon - WEST) / stepDeg;
      const row = (NORTH - (lats[i] ?? 0)) / stepDeg;
      return [0, 1].flatMap((dx) =>
        [0, 1].map((dy) => `${Math.floor((column + dx) / BLOCK)}/${Math.floor((row + dy) / BLOCK)}`),
      );
    }),
  );
  const path = join(folder, `${packing}-${side}.tif`);
  writeFloatTile(path, {
    westDeg: WEST,
    northDeg: NORTH,
    stepDeg,
    side,
    blockSide: BLOCK,
    packing,
    height: (column, row) => groundM(column, row, stepDeg),
    isWritten: (blockX, blockY) => touched.has(`${blockX}/${blockY}`),
  });
  return { path, lons, lats, blocks: touched.size };
}

const reference = await openPythonReference('gdal_reference.py');
if (reference === null)
  process.stderr.write('GDAL with numpy is not installed for Python: ours alone is measured\n');
const rows: BenchRow[] = [];
let mostRss = 0;
const allStalls: number[] = [];
const allIdleStalls: number[] = [];
const neighbours = await spinning(2);

// All made before anything is measured: writing LZW leaves much for the garbage collector.
const made = sized([3601, 10_812], [1024]).flatMap((side) =>
  (['deflate', 'lzw'] as const).map((packing) => ({ side, packing, ...makeTile(side, packing) })),
);
for (const { side, packing, path, lons, lats, blocks } of made) {
  await reference?.ask({ ask: 'points', lons, lats });
  const times = {
    cold: [] as number[],
    warm: [] as number[],
    gdalCold: [] as number[],
    numpyWarm: [] as number[],
  };
  const stalls: number[] = [];
  const idleStalls: number[] = [];
  let coldMs = FIRST_IDLE_MS;
  for (let round = 0; round <= ROUNDS; round += 1) {
    const idleStall = await neighbours.longestIdleStallMs(coldMs);
    const delay = monitorEventLoopDelay({ resolution: 1 });
    delay.enable();
    const from = performance.now();
    const surface = await openSurface([path]);
    const first = await surface.heightsAt(lons, lats);
    const cold = performance.now() - from;
    delay.disable();
    coldMs = cold;
    const warm: number[] = [];
    for (let repeat = 0; repeat < WARM_REPEATS; repeat += 1) {
      const again = performance.now();
      await surface.heightsAt(lons, lats);
      warm.push(performance.now() - again);
    }
    mostRss = Math.max(mostRss, process.memoryUsage().rss);
    await surface.close();
    const gdal = await reference?.ask<{ ms: number; sum: number }>({ ask: 'cold', path });
    const numpy: number[] = [];
    for (let repeat = 0; repeat < WARM_REPEATS && reference !== null; repeat += 1)
      numpy.push((await reference.ask<{ ms: number }>({ ask: 'warm' })).ms);
    const sum = first.heightsM.reduce<number>((total, height) => total + (height ?? Number.NaN), 0);
    if (gdal !== undefined && !(Math.abs(sum - gdal.sum) < 1e-6 * PLACES))
      throw new Error(`${path}: ours sum to ${sum}, GDAL's to ${gdal.sum}`);
    // The first round warms both up and is not counted.
    if (round === 0) continue;
    times.cold.push(cold);
    times.warm.push(...warm);
    stalls.push(delay.max / 1e6);
    idleStalls.push(idleStall);
    if (gdal !== undefined) times.gdalCold.push(gdal.ms);
    times.numpyWarm.push(...numpy);
  }
  allStalls.push(...stalls);
  allIdleStalls.push(...idleStalls);
  const name = `${packing.toUpperCase()} predictor 3, ${side}², ${blocks} blocks`;
  const of = (values: readonly number[]) => (values.length === 0 ? null : median(values));
  rows.push(
    {
      case: `cold, ${name}`,
      ours: median(times.cold),
      reference: of(times.gdalCold),
      unit: 'ms',
      referenceIs: reference?.name ?? 'GDAL, not installed',
    },
    {
      case: `warm, ${name}`,
      ours: median(times.warm),
      reference: of(times.numpyWarm),
      unit: 'ms',
      referenceIs: 'numpy on unpacked blocks',
    },
    {
      case: `longest stall, ${name}`,
      ours: median(stalls),
      reference: 20,
      unit: 'ms',
      referenceIs: 'the aim',
    },
    {
      case: `  of an idle loop beside, ${name}`,
      ours: median(idleStalls),
      reference: null,
      unit: 'ms',
      referenceIs: 'no aim: the machine alone',
    },
  );
}
rows.push(
  {
    case: 'longest stall of all rounds',
    ours: Math.max(...allStalls),
    reference: 20,
    unit: 'ms',
    referenceIs: 'the aim',
  },
  {
    case: '  of an idle loop beside all rounds',
    ours: Math.max(...allIdleStalls),
    reference: null,
    unit: 'ms',
    referenceIs: 'no aim: the machine alone',
  },
  {
    case: 'memory held at most',
    ours: mostRss / 2 ** 20,
    reference: 400,
    unit: 'MB',
    referenceIs: 'the aim',
  },
);
report('terrain', rows);
reference?.close();
await neighbours.close();
