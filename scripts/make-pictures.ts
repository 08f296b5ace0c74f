/**
 * Draws the pictures of the docs from the demo: `npm run make:pictures` (`-- --smoke` draws and writes nothing). With `-- pages` also the printed pages
 * and every page of the service, by the browser that comes in the packages.
 */

import { writeFileSync } from 'node:fs';
import { readCohortFile, readRouteFiles } from '../src/app/files.ts';
import { routesOf } from '../src/app/measure.ts';
import { cohortRecordOf } from '../src/app/recordings.ts';
import { fitFor } from '../src/app/shortlist.ts';
import { DESIGN } from '../src/design.ts';
import { makeDocument } from '../src/document/make-document.ts';
import type { PlanDocument } from '../src/document/plan-document.ts';
import { planHtml } from '../src/document/plan-html.tsx';
import { profileFile } from '../src/drawing/profile/svg.tsx';
import { makeTripPlan } from '../src/plan/trip-plan.ts';
import { openSurface } from '../src/terrain/tile-set.ts';
import { isSmoke } from './bench/size.ts';
import { picturesOfPages } from './page-pictures.ts';
import { picturesOfSite } from './site-pictures.ts';

const ROUTE = 'data/demo/routes/two-knolls-round.gpx';
const COHORT = 'data/demo/cohorts/marram-seniors.json';
const DATE = '2026-07-11';
const TODAY = '2026-07-02';
const FOLDER = 'data/pictures';

/** The plan of the demo's day. */
async function demoPlan(): Promise<PlanDocument> {
  const surface = await openSurface(['data/demo/dem']);
  const ground = { surface, design: DESIGN };
  const { cohort, readTrack } = await readCohortFile(COHORT);
  const record = await cohortRecordOf(cohort, readTrack, ground);
  const [file] = await readRouteFiles([ROUTE]);
  if (file === undefined) throw new RangeError(`no ${ROUTE}`);
  const [route] = await routesOf(file, ground);
  if (route === undefined) throw new RangeError(`no route in ${ROUTE}`);
  await surface.close();
  const trip = makeTripPlan({
    fit: fitFor(route, { record, date: DATE, design: DESIGN }),
    record,
    date: DATE,
    today: TODAY,
    known: [],
    spareDate: null,
    warm: null,
    design: DESIGN,
  });
  return makeDocument(trip, DESIGN, 'metric');
}

function write(name: string, content: string | Uint8Array): void {
  writeFileSync(`${FOLDER}/${name}`, content);
  process.stdout.write(`${FOLDER}/${name}\n`);
}

const plan = await demoPlan();
const profile = plan.profile === null ? null : profileFile(plan.profile);
if (profile === null) throw new RangeError('the demo route has no day');
if (!isSmoke) write('day-profile.svg', profile);
if (process.argv.includes('pages')) {
  const keys = plan.pages.map(({ key }) => key);
  for (const { key, png } of await picturesOfPages(planHtml(plan), keys)) write(`plan-${key}.png`, png);
  for (const { name, png } of await picturesOfSite()) write(`${name}.png`, png);
}
