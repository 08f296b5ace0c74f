import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DESIGN } from '../src/design.ts';
import { openLibrary } from '../src/library.ts';
import { openStore, type Store } from '../src/storage/store.ts';
import type { Surface } from '../src/terrain/surface.ts';
import { openSurface } from '../src/terrain/tile-set.ts';
import { MS_PER_DAY } from '../src/units.ts';
import { tempFolder } from './support/temp-folder.ts';

const folder = tempFolder();
const START_MS = Date.UTC(2026, 5, 1, 12);
const WALK = 'data/demo/cohorts/walks/seniors-marram-ridge.gpx';
let surface: Surface;
let nowMs = START_MS;
let count = 0;

beforeAll(async () => {
  surface = await openSurface(['data/demo/dem']);
});
afterAll(() => surface.close());

/** A library of its own file; `holds` searches the database and its log for a text. */
function fresh() {
  nowMs = START_MS;
  count += 1;
  const file = join(folder, `store-${count}.db`);
  const store: Store = openStore(file, { nowMs: () => nowMs });
  const library = openLibrary({ store, ground: { surface, design: DESIGN }, nowMs: () => nowMs });
  const holds = (needle: string | Buffer): boolean =>
    ['', '-wal', '-shm'].some((end) => existsSync(file + end) && readFileSync(file + end).includes(needle));
  return { store, library, holds, file };
}

const COHORT = {
  name: 'Zephyrwort Group',
  participants: 3,
  members: ['qx7label', 'vk3label'],
  going: ['qx7label', 'vk3label'],
  home: { lat: 46.123456, lon: -30.234567 },
};
const DAY = { date: '2026-05-20', distanceM: 9000, gainM: 500, movingMin: 200 };

describe('erasure', () => {
  it('of a cohort leaves nothing of it in the database or its log', async () => {
    const { store, library, holds } = fresh();
    const { id } = await library.addCohort({ ...COHORT, outings: [{ ...DAY, members: ['qx7label'] }] });
    expect(holds('Zephyrwort') && holds('qx7label')).toBe(true);
    await library.deleteCohort(id, null);
    expect([holds('Zephyrwort'), holds('qx7label'), holds('vk3label')]).toEqual([false, false, false]);
    await store.close();
  });

  it('is finished once another process has stopped reading the log', async () => {
    const { store, library, holds, file } = fresh();
    const { id } = await library.addCohort(COHORT);
    const reader = new Database(file, { readonly: true });
    reader.exec('begin');
    reader.prepare('select count(*) from cohorts').get();
    await library.deleteCohort(id, null);
    expect(holds('Zephyrwort')).toBe(true);
    reader.exec('commit');
    reader.close();
    await expect.poll(() => holds('Zephyrwort'), { timeout: 20_000, interval: 200 }).toBe(false);
    await store.close();
  });

  it('of a label takes it from the cohort and from every outing, and the outings that were its own', async () => {
    const { store, library, holds } = fresh();
    const { id } = await library.addCohort({
      ...COHORT,
      outings: [
        { ...DAY, members: ['qx7label'] },
        { ...DAY, members: ['qx7label', 'vk3label'] },
      ],
    });
    await library.eraseMember(id, 'qx7label');
    expect(holds('qx7label')).toBe(false);
    const { cohort } = await library.getCohort(id);
    expect([cohort.members, cohort.going]).toEqual([['vk3label'], ['vk3label']]);
    const outings = await library.listOutings(id, { limit: 10, after: null });
    expect(outings.map(({ outing }) => outing.members)).toEqual([['vk3label']]);
    await expect(library.eraseMember(id, 'qx7label')).rejects.toMatchObject({ code: 'not-found' });
    await store.close();
  });

  it('comes 90 days after the last trip, and not before', async () => {
    const { store, library, holds } = fresh();
    const { id } = await library.addCohort({ ...COHORT, outings: [DAY] });
    await library.shortlist(id, '2026-07-11', { units: 'metric', limit: 5, verdicts: null, afterRank: 0 });
    expect(library.eraseAfter(await library.getCohort(id))).toBe('2026-10-09');
    nowMs = Date.UTC(2026, 6, 11, 12) + 90 * MS_PER_DAY;
    expect(await library.eraseExpired()).toBe(0);
    nowMs += MS_PER_DAY;
    expect(await library.eraseExpired()).toBe(1);
    expect(holds('Zephyrwort')).toBe(false);
    await store.close();
  });

  it('is not put off for years by a trip asked about far ahead', async () => {
    const { store, library } = fresh();
    const { id } = await library.addCohort(COHORT);
    await library.shortlist(id, '2199-01-01', { units: 'metric', limit: 5, verdicts: null, afterRank: 0 });
    expect(library.eraseAfter(await library.getCohort(id)) < '2027-10-01').toBe(true);
    await store.close();
  });
});

describe('what is kept of minors', () => {
  it('is no position, name or device of a recorded day, and no meeting place finer than 0.01°', async () => {
    const { store, library, holds } = fresh();
    const { id } = await library.addCohort(COHORT);
    const text = readFileSync(WALK, 'utf8').replace(/<gpx /, '<gpx creator="Tattlebox 9" ');
    const positions = [...text.matchAll(/lat="([\d.-]+)" lon="([\d.-]+)"/g)].slice(0, 400);
    expect(positions.length).toBeGreaterThan(100);
    const bytes = new TextEncoder().encode(text.replace(/creator="[^"]*" (?=.*creator)/, ''));
    await library.addOutingOfTrack(id, {
      bytes,
      mediaType: 'application/gpx+xml',
      date: '2026-05-20',
      rockClass: '1',
      members: ['qx7label'],
    });
    for (const [, lat = '', lon = ''] of positions) {
      for (const degrees of [lat, lon]) {
        expect(holds(degrees)).toBe(false);
        const double = Buffer.alloc(8);
        double.writeDoubleBE(Number(degrees));
        expect(holds(double)).toBe(false);
      }
    }
    expect([holds('Tattlebox'), holds('46.1234'), holds('30.2345')]).toEqual([false, false, false]);
    await store.close();
  });
});
