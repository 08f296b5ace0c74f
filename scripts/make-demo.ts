import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isSmoke } from './bench/size.ts';
import { COHORTS } from './demo-range/cohort-table.ts';
import { cohortFiles } from './demo-range/make-cohorts.ts';
import { drawRoutes, routeFiles } from './demo-range/make-routes.ts';
import { seasonFile } from './demo-range/make-season.ts';
import { tileFiles } from './demo-range/make-tiles.ts';
import { readmeText } from './demo-range/readme.ts';
import { ROUTES } from './demo-range/route-table.ts';
import { makeTerrain } from './demo-range/terrain.ts';

/** The seed of the demo as it ships. */
export const DEMO_SEED = 46;

/**
 * Writes the whole demo into a folder, replacing what an earlier run left there; the same bytes for the same seed.
 * @returns the paths written, relative to the folder
 */
export function makeDemo(folder: string, seed: number = DEMO_SEED): string[] {
  const terrain = makeTerrain(seed);
  const routes = drawRoutes(terrain, ROUTES);
  const files = [
    ...tileFiles(terrain),
    ...routeFiles(terrain, routes, seed),
    ...cohortFiles(terrain, COHORTS, routes, seed),
    seasonFile(),
    { path: 'README.md', content: readmeText(routes, COHORTS, seed) },
  ];
  for (const part of ['dem', 'routes', 'cohorts'])
    rmSync(join(folder, part), { recursive: true, force: true });
  for (const { path, content } of files) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
  return files.map(({ path }) => path);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const shipped = fileURLToPath(new URL('../data/demo', import.meta.url));
  const folder = isSmoke ? mkdtempSync(join(tmpdir(), 'krummholz-demo-')) : shipped;
  console.log(`${folder}: ${makeDemo(folder).length} files`);
  if (isSmoke) rmSync(folder, { recursive: true });
}
