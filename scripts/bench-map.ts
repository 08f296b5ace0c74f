/**
 * The map of a route: npm run bench:map (-- --json). Heights from the demo's tiles, contours, treeline, steep ground and
 * labels, hillshade as a PNG, the first time and from the caches. The reference is d3-contour alone over the same net.
 */
import { contours } from 'd3-contour';
import { contourLevels } from '../src/drawing/map/contour-levels.ts';
import { hillshadePng } from '../src/drawing/map/relief.ts';
import { drawTerrain } from '../src/drawing/map/terrain-drawing.ts';
import { mapFrame } from '../src/route/map-frame.ts';
import { mapDrawings } from '../src/site/map-views.ts';
import { latticeOver } from '../src/terrain/lattice.ts';
import { openSurface } from '../src/terrain/tile-set.ts';
import { demoWorld } from '../test/support/demo-world.ts';
import { type BenchRow, median, report } from './bench/report.ts';
import { sized } from './bench/size.ts';

const ROUNDS = sized(9, 1);
const ROUTES = sized(['Two Knolls Round', 'Cistern Traverse'], ['Two Knolls Round']);
const POSTING_M = 31;
const MOST_PLACES = 300;

const { routes } = await demoWorld();
const surface = await openSurface(['data/demo/dem']);
const rows: BenchRow[] = [];

const timed = async (work: () => unknown): Promise<number> => {
  const from = performance.now();
  await work();
  return performance.now() - from;
};

/** The longest that anything else had to wait while the work went on, ms. */
async function longestWait(work: () => Promise<unknown>): Promise<number> {
  let longest = 0;
  let last = performance.now();
  let isOn = true;
  const look = (): void => {
    const now = performance.now();
    longest = Math.max(longest, now - last);
    last = now;
    if (isOn) setImmediate(look);
  };
  setImmediate(look);
  await work();
  isOn = false;
  return longest;
}

for (const name of ROUTES) {
  const route = routes.find((one) => one.name === name);
  const frame = route === undefined ? null : mapFrame([route]);
  if (route === undefined || frame === null) throw new RangeError(`the demo has no ${name}`);
  const wishes = { treelineM: route.measures.treelineM, units: 'metric', lines: route.line } as const;
  const whole = async () => {
    const lattice = await latticeOver(surface, frame, POSTING_M, MOST_PLACES);
    await drawTerrain(lattice, wishes);
    return lattice;
  };
  const lattice = await whole();
  const levels = contourLevels(
    Math.min(...lattice.heightsM),
    Math.max(...lattice.heightsM),
    'metric',
  ).levels.map(({ heightM }) => heightM);
  const bare = contours().size([lattice.columns, lattice.rows]).thresholds(levels);
  const drawings = mapDrawings();
  const map = { frame, lattice, sources: [] };
  await drawings.terrainOf('a', { map, ...wishes });
  const times = {
    whole: [] as number[],
    bare: [] as number[],
    shade: [] as number[],
    kept: [] as number[],
    wait: [] as number[],
  };
  for (let round = 0; round < ROUNDS; round += 1) {
    times.whole.push(await timed(whole));
    times.bare.push(await timed(() => bare(lattice.heightsM as unknown as number[])));
    times.shade.push(await timed(() => hillshadePng(lattice)));
    times.kept.push(await timed(() => drawings.terrainOf('a', { map, ...wishes })));
    times.wait.push(await longestWait(whole));
  }
  const reference = median(times.bare);
  const referenceIs = 'd3-contour alone over the same net';
  const size = `${name}, ${lattice.columns} × ${lattice.rows}`;
  const row = (what: string, values: readonly number[]): BenchRow => ({
    case: `${size}: ${what}`,
    ours: median(values),
    reference,
    unit: 'ms',
    referenceIs,
  });
  rows.push(
    row('the map, first time', times.whole),
    row('hillshade', times.shade),
    row('the map, again', times.kept),
    row('longest hold of the event loop', times.wait),
  );
}
await surface.close();
report('map', rows);
