import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type Context, openContext } from '../../src/app/context.ts';
import { addOutingByHand, deleteOuting } from '../../src/app/days.ts';
import { addCohort, putCohort } from '../../src/app/groups.ts';
import { addRoutes, deleteRoute, getRoute, patchRoute, remeasureRoutes } from '../../src/app/routes.ts';
import { shortlist } from '../../src/app/shortlist.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { openStore, type Store } from '../../src/storage/store.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { COHORT, NOW_MS, wayUp } from '../http/service.ts';
import { bytesOf } from '../ingest/samples.ts';
import { writeMountain } from '../support/mountain.ts';
import { tempFolder } from '../support/temp-folder.ts';

const folder = tempFolder();
const DATE = '2026-07-11';
let surface: Surface;
let store: Store;

beforeAll(async () => {
  writeMountain(join(folder, 'mountain.tif'));
  surface = await openSurface([join(folder, 'mountain.tif')]);
  store = openStore(join(folder, 'store.db'));
});
afterAll(async () => {
  await store.close();
  await surface.close();
});

const opened = (design = DESIGN) => openContext({ store, ground: { surface, design }, nowMs: () => NOW_MS });
const PAGE = { limit: 50, verdicts: null, afterRank: 0, changes: null };

it('a shortlist asked again is that of a context that has kept nothing, whatever has changed in between', async () => {
  const context = opened();
  const { routes } = await addRoutes(context, [
    { bytes: bytesOf(wayUp('South Way')) },
    { bytes: bytesOf(wayUp('Other Way', 0.002)) },
  ]);
  const [route, other] = routes.map(({ id }) => id);
  const { id, revision } = await addCohort(context, COHORT);
  const told = new Set<string>();

  async function sees(of: Context, name: string, isOther = true): Promise<void> {
    const answers: string[] = [];
    for (const asked of [of, of, opened(of.ground.design)]) {
      const first = await shortlist(asked, { ...PAGE, cohortId: id, date: DATE });
      const later = await shortlist(asked, { ...PAGE, cohortId: id, date: '2026-08-22' });
      const changes = { participants: 30, outings: [{ date: '2026-07-01', distanceM: 4000, gainM: 300 }] };
      const ifSo = await shortlist(asked, { ...PAGE, cohortId: id, date: DATE, changes });
      answers.push(JSON.stringify([first.fits, later.fits, ifSo.fits, ifSo.moved]));
    }
    expect(new Set(answers).size, name).toBe(1);
    const [answer = ''] = answers;
    expect(told.has(answer), name).toBe(!isOther);
    told.add(answer);
  }

  await sees(context, 'at first');
  await sees(context, 'nothing has changed', false);
  const stored = await getRoute(context, route ?? '');
  const { revision: noted } = await patchRoute(context, stored.id, stored.revision, { notes: 'Ask.' });
  await sees(context, 'a note, which ranking does not look at');
  const { revision: patched } = await patchRoute(context, stored.id, noted, { rockClass: '2' });
  await sees(context, 'an attribute');
  await patchRoute(context, stored.id, patched, { treelineM: 1300 });
  await sees(context, 'a treeline, measured again');
  const outing = await addOutingByHand(context, id, { date: '2026-06-20', distanceM: 3000, gainM: 200 });
  await sees(context, 'a day walked');
  await putCohort(context, id, revision, { ...COHORT, comfortClass: '1' });
  await sees(context, 'the cohort');
  await deleteOuting(context, id, outing.id);
  await sees(context, 'a day taken back');
  await addRoutes(context, [{ bytes: bytesOf(wayUp('Third Way', 0.004)) }]);
  await sees(context, 'a route more');
  await deleteRoute(context, other ?? '', null);
  await sees(context, 'a route less');

  const stricter = opened(withChanges({ treeline: { programM: 1500 }, weights: { drive: 9 } }));
  await sees(stricter, 'other settings');
  await remeasureRoutes(stricter);
  await sees(stricter, 'measured again under them');
});
