import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type Library, openLibrary } from '../../src/app/library.ts';
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

const opened = (design = DESIGN) => openLibrary({ store, ground: { surface, design }, nowMs: () => NOW_MS });
const PAGE = { limit: 50, verdicts: null, afterRank: 0 };

it('a shortlist asked again is that of a library that has kept nothing, whatever has changed in between', async () => {
  const library = opened();
  const { routes } = await library.addRoutes([
    { bytes: bytesOf(wayUp('South Way')) },
    { bytes: bytesOf(wayUp('Other Way', 0.002)) },
  ]);
  const [route, other] = routes.map(({ id }) => id);
  const { id, revision } = await library.addCohort(COHORT);
  const told = new Set<string>();

  async function sees(of: Library, name: string, isOther = true): Promise<void> {
    const answers: string[] = [];
    for (const asked of [of, of, opened(of.design)]) {
      const metric = await asked.shortlist(id, DATE, { ...PAGE, units: 'metric' });
      const us = await asked.shortlist(id, DATE, { ...PAGE, units: 'us' });
      const later = await asked.shortlist(id, '2026-08-22', { ...PAGE, units: 'metric' });
      const changes = { participants: 30, outings: [{ date: '2026-07-01', distanceM: 4000, gainM: 300 }] };
      const ifSo = await asked.whatIf(id, DATE, changes, { ...PAGE, units: 'metric' });
      answers.push(JSON.stringify([metric.fits, us.fits, later.fits, ifSo.fits, ifSo.moved]));
    }
    expect(new Set(answers).size, name).toBe(1);
    const [answer = ''] = answers;
    expect(told.has(answer), name).toBe(!isOther);
    told.add(answer);
  }

  await sees(library, 'at first');
  await sees(library, 'nothing has changed', false);
  const stored = await library.getRoute(route ?? '');
  const { revision: noted } = await library.patchRoute(stored.id, stored.revision, { notes: 'Ask.' });
  await sees(library, 'a note, which ranking does not look at');
  const { revision: patched } = await library.patchRoute(stored.id, noted, { rockClass: '2' });
  await sees(library, 'an attribute');
  await library.patchRoute(stored.id, patched, { treelineM: 1300 });
  await sees(library, 'a treeline, measured again');
  const outing = await library.addOutingByHand(id, { date: '2026-06-20', distanceM: 3000, gainM: 200 });
  await sees(library, 'a day walked');
  await library.putCohort(id, revision, { ...COHORT, comfortClass: '1' });
  await sees(library, 'the cohort');
  await library.deleteOuting(id, outing.id);
  await sees(library, 'a day taken back');
  await library.addRoutes([{ bytes: bytesOf(wayUp('Third Way', 0.004)) }]);
  await sees(library, 'a route more');
  await library.deleteRoute(other ?? '', null);
  await sees(library, 'a route less');

  const stricter = opened(withChanges({ treeline: { programM: 1500 }, weights: { drive: 9 } }));
  await sees(stricter, 'other settings');
  await stricter.refresh();
  await sees(stricter, 'measured again under them');
});
