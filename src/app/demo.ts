import { basename, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Surface } from '../terrain/surface.ts';
import type { Context } from './context.ts';
import { addOutingOfTrack } from './days.ts';
import { namesIn, readCohortFile, readRouteFiles } from './files.ts';
import { addCohort } from './groups.ts';
import { addRoutes } from './routes.ts';

/** The invented range that comes with the program: beside the sources, and one folder higher beside what is built. */
const PLACES = ['../../data/demo', '../../../data/demo'].map((path) =>
  fileURLToPath(new URL(path, import.meta.url)),
);

/** The day for which the range's cohorts train. */
export const DEMO_DATE = '2026-07-11';

async function found(): Promise<{ readonly folder: string; readonly tiles: readonly string[] } | null> {
  for (const folder of PLACES) {
    const tiles = await namesIn(join(folder, 'dem'));
    if (tiles.length > 0) return { folder, tiles };
  }
  return null;
}

/** The folder of the invented range; `null` where it is not there, or its tiles are not among those of this ground. */
export async function demoOn({ sources }: Surface): Promise<string | null> {
  const demo = await found();
  if (demo === null) return null;
  const paths = new Set(sources.map(({ path }) => resolve(path)));
  const isGround = demo.tiles.every((tile) => paths.has(resolve(demo.folder, 'dem', tile)));
  return isGround ? demo.folder : null;
}

/** Shows how far the measuring is. */
type ProgressFor = (routes: number) => { step(file: string): void; stop(): void };

/** Stores the invented range's routes, cohorts and days. Gives the ids of the cohorts. */
export async function loadDemo(
  context: Context,
  folder: string,
  progressFor?: ProgressFor,
): Promise<readonly string[]> {
  const files = await readRouteFiles([join(folder, 'routes')]);
  const progress = progressFor?.(files.length);
  for (const file of files) {
    await addRoutes(context, [file]);
    progress?.step(basename(file.path));
  }
  progress?.stop();
  const ids: string[] = [];
  for (const name of (await namesIn(join(folder, 'cohorts'))).filter((one) => one.endsWith('.json')).sort()) {
    const { cohort, readTrack } = await readCohortFile(join(folder, 'cohorts', name));
    const outings = cohort.outings ?? [];
    const byHand = outings.filter((outing) => outing.track == null);
    const { id } = await addCohort(context, { ...cohort, outings: byHand });
    ids.push(id);
    for (const { track, date, rockClass, members } of outings) {
      if (track == null) continue;
      await addOutingOfTrack(context, id, {
        bytes: await readTrack(track),
        mediaType: 'application/gpx+xml',
        date,
        rockClass: rockClass ?? null,
        members: members ?? null,
      });
    }
  }
  return ids;
}
