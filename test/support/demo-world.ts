import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { readCohortFile, readRouteFiles } from '../../src/app/files.ts';
import { routesOf } from '../../src/app/measure.ts';
import { cohortRecordOf } from '../../src/app/recordings.ts';
import { DESIGN } from '../../src/design.ts';
import type { CohortRecord } from '../../src/rank/readiness.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';

const COHORTS = 'data/demo/cohorts';

/** Days on which the demo's cohorts are asked about: its own, one out of season, a short one, one long after. */
export const DEMO_DATES = ['2026-07-11', '2026-06-20', '2026-08-22', '2026-11-14'] as const;

interface DemoWorld {
  readonly routes: readonly Route[];
  readonly records: readonly CohortRecord[];
}

async function madeWorld(): Promise<DemoWorld> {
  const surface = await openSurface(['data/demo/dem']);
  try {
    const ground = { surface, design: DESIGN };
    const routes: Route[] = [];
    for (const file of await readRouteFiles(['data/demo/routes']))
      routes.push(...(await routesOf(file, ground)));
    const records: CohortRecord[] = [];
    for (const name of readdirSync(COHORTS).filter((file) => file.endsWith('.json'))) {
      const { cohort, readTrack } = await readCohortFile(join(COHORTS, name));
      records.push(await cohortRecordOf(cohort, readTrack, ground));
    }
    return { routes, records };
  } finally {
    await surface.close();
  }
}

let made: Promise<DemoWorld> | null = null;

/** The demo as the commands read it: its routes measured, its cohorts with their outings. Made once a process. */
export function demoWorld(): Promise<DemoWorld> {
  made ??= madeWorld();
  return made;
}
