import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import { DESIGN } from '../../src/design.ts';
import { EngineError } from '../../src/errors.ts';
import { rowOf } from '../../src/rank/route-row.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { SCHEMA_VERSION } from '../../src/storage/migrations.ts';
import { openStore, type StoreOptions } from '../../src/storage/store.ts';
import { mountain } from '../support/fit-input.ts';
import { tempFolder } from '../support/temp-folder.ts';

const folder = tempFolder();
let made = 0;
const newFile = (): string => {
  made += 1;
  return join(folder, `store-${made}.db`);
};

/** Counts instead of drawing, so that ids are told apart and repeatable. */
function counted(): StoreOptions {
  let drawn = 0;
  let ticks = 0;
  return {
    random: (bytes) => {
      drawn += 1;
      return new Uint8Array(bytes).fill(drawn % 256);
    },
    nowMs: () => {
      ticks += 1;
      return 1_000 + ticks;
    },
  };
}

const route = (name: string): Route => ({ ...mountain(), name });
const withRow = (measured: Route) => ({ route: measured, row: rowOf(measured, DESIGN) });
const file = (contentHash: string, ...names: string[]) => ({
  contentHash,
  routes: names.map((name) => withRow(route(name))),
});
const outing = (members: string[] | null = null) =>
  handOuting({ date: '2026-06-20', distanceM: 9200, gainM: 610, movingMin: 240, members });
const FROM_START = { limit: 100, after: null };

function refusal(open: () => unknown): EngineError {
  try {
    open();
  } catch (error) {
    if (error instanceof EngineError) return error;
    throw error;
  }
  throw new Error('expected a refusal');
}

describe('the store', () => {
  it('keeps every commit over a power cut, on the first opening and on every later one', async () => {
    const path = newFile();
    for (let opening = 0; opening < 3; opening += 1) {
      const store = openStore(path);
      // 2 is FULL; SQLite's documentation of "PRAGMA synchronous".
      expect(store.pragma('journal_mode')).toBe('wal');
      expect(store.pragma('synchronous')).toBe(2);
      expect(store.pragma('foreign_keys')).toBe(1);
      expect(store.pragma('secure_delete')).toBe(1);
      expect(await store.isReady()).toBe(true);
      await store.close();
    }
  });

  it('lets go of the file when it is closed, used or not', async () => {
    for (const use of [false, true]) {
      const path = newFile();
      const store = openStore(path);
      if (use) await store.cohorts.add({ name: 'A', participants: 1 }, []);
      await store.close();
      expect(() => statSync(`${path}-wal`)).toThrow('ENOENT');
    }
  });

  it('is readable by its owner alone', async () => {
    const path = newFile();
    const store = openStore(path);
    await store.cohorts.add({ name: 'A', participants: 1 }, []);
    for (const end of ['', '-wal']) expect(statSync(`${path}${end}`).mode & 0o077).toBe(0);
    await store.close();
  });

  it('gives back what it was given after it was closed and opened again', async () => {
    const path = newFile();
    const first = openStore(path);
    const { routes } = await first.routes.add([file('h', 'Ridge', 'Gully')], 'm');
    const cohort = await first.cohorts.add({ name: 'A', participants: 3 }, [outing()]);
    const secret = Buffer.from(first.secret).toString('hex');
    await first.close();
    const second = openStore(path);
    expect(await second.routes.all()).toEqual(routes);
    expect(await second.cohorts.get(cohort.id)).toEqual(cohort);
    expect((await second.outings.all(cohort.id)).map((row) => row.outing)).toEqual([outing()]);
    expect(Buffer.from(second.secret).toString('hex')).toBe(secret);
    await second.close();
  });

  it('makes ids that cannot be guessed and fit into an address', async () => {
    const store = openStore(newFile());
    const { routes } = await store.routes.add([file('h', 'A', 'B')], 'm');
    const cohort = await store.cohorts.add({ name: 'A', participants: 1 }, []);
    for (const id of routes.map((row) => row.id)) expect(id).toMatch(/^rt_[A-Za-z0-9_-]{22}$/);
    expect(cohort.id).toMatch(/^co_[A-Za-z0-9_-]{22}$/);
    expect(new Set(routes.map((row) => row.id)).size).toBe(2);
    await store.close();
  });

  /** Makes of a closed file what the program of an older schema left. */
  function asOfSchema(version: 1 | 2 | 3, path: string): void {
    const raw = new Database(path);
    for (const name of ['routeAdded', 'routeChanged', 'routeDeleted']) raw.exec(`drop trigger ${name}`);
    raw.exec('drop table routesVersion; alter table routes drop column ranking');
    raw.pragma('user_version = 3');
    if (version === 3) {
      raw.close();
      return;
    }
    for (const name of ['cohortDeleted', 'cohortChanged', 'outingDeleted', 'outingChanged']) {
      raw.exec(`drop trigger ${name}`);
    }
    if (version === 1) raw.exec('alter table cohorts drop column lastTripDate');
    else raw.exec("update cohorts set lastTripDate = date(createdAtMs / 1000, 'unixepoch')");
    raw.pragma(`user_version = ${version}`);
    raw.close();
  }

  it.each([1, 2] as const)('brings a file of schema %i up and keeps what is in it', async (version) => {
    const path = newFile();
    const nowMs = () => Date.UTC(2026, 5, 1);
    const before = openStore(path, { nowMs });
    const day = (date: string) => ({ ...outing(), date });
    const none = await before.cohorts.add({ name: 'Lantern Group', participants: 3 }, []);
    const past = await before.cohorts.add({ name: 'Past', participants: 3 }, [day('2026-05-20')]);
    const later = await before.cohorts.add({ name: 'Later', participants: 3 }, [
      day('2026-06-20'),
      day('2026-05-01'),
    ]);
    const slip = await before.cohorts.add({ name: 'Slip of the year', participants: 3 }, [day('2062-06-20')]);
    await before.close();
    asOfSchema(version, path);
    const after = openStore(path);
    expect(await after.cohorts.get(none.id)).toEqual(none);
    for (const [{ id }, date] of [
      [none, '2026-06-01'],
      [past, '2026-06-01'],
      [later, '2026-06-20'],
      [slip, '2027-06-02'],
    ] as const) {
      expect((await after.cohorts.get(id))?.lastTripDate).toBe(date);
    }
    await after.close();
  });

  it('keeps the routes of schema 3, and says that their rows are to be made', async () => {
    const path = newFile();
    const before = openStore(path);
    const { routes } = await before.routes.add([file('a', 'A')], 'm');
    await before.close();
    asOfSchema(3, path);
    const after = openStore(path);
    const [stored] = routes;
    if (stored === undefined) throw new Error('no route');
    expect(await after.routes.rows()).toEqual([{ id: stored.id, revision: stored.revision, row: null }]);
    expect(await after.routes.notMeasuredBy('m')).toEqual([stored.id]);
    await after.routes.replace(stored.id, 1, withRow(stored.route), 'm');
    expect(await after.routes.notMeasuredBy('m')).toEqual([]);
    expect(await after.routes.rows()).toEqual([
      { id: stored.id, revision: stored.revision + 1, row: rowOf(stored.route, DESIGN) },
    ]);
    expect(await after.routes.rowsOf([stored.id, 'gone'])).toEqual(await after.routes.rows());
    expect(await after.routes.revisions()).toEqual([{ id: stored.id, revision: stored.revision + 1 }]);
    await after.close();
  });

  it('has another version of its routes after every change of one, and no other after anything else', async () => {
    const store = openStore(newFile());
    const versions = [await store.routes.version()];
    const note = async () => versions.push(await store.routes.version());
    const { routes } = await store.routes.add([file('a', 'A')], 'm');
    await note();
    const id = routes[0]?.id ?? '';
    await store.routes.replace(id, 1, withRow(route('B')), 'm');
    await note();
    await store.routes.delete(id, null);
    await note();
    expect(new Set(versions).size).toBe(4);
    await store.cohorts.add({ name: 'A', participants: 1 }, [outing()]);
    await note();
    expect(versions.at(-1)).toBe(versions.at(-2));
    await store.close();
  });

  it('cleans a file of an older schema, which kept copies of erased rows', async () => {
    const path = newFile();
    await openStore(path).close();
    asOfSchema(2, path);
    const raw = new Database(path);
    // Without secure_delete the row stays in the page.
    raw.exec("insert into meta values ('x', cast('Zq7Leftover' as blob)); delete from meta where key = 'x'");
    raw.close();
    expect(readFileSync(path).includes('Zq7Leftover')).toBe(true);
    const after = openStore(path);
    expect(readFileSync(path).includes('Zq7Leftover')).toBe(false);
    await after.close();
  });

  it('refuses a database of a newer program, and leaves it as it is', () => {
    const path = newFile();
    void openStore(path).close();
    const db = new Database(path);
    db.pragma(`user_version = ${SCHEMA_VERSION + 1}`);
    db.close();
    const error = refusal(() => openStore(path));
    expect(error.code).toBe('file-unreadable');
    expect(error.message).toContain(`schema ${SCHEMA_VERSION + 1}`);
    const after = new Database(path);
    expect(after.pragma('user_version', { simple: true })).toBe(SCHEMA_VERSION + 1);
    after.close();
  });

  it('refuses another program’s database, a file that is none, and a folder that is not there', () => {
    const foreign = newFile();
    const db = new Database(foreign);
    db.exec('create table theirs (x)');
    db.close();
    expect(refusal(() => openStore(foreign)).message).toContain('another program');
    const noDatabase = newFile();
    writeFileSync(noDatabase, 'not a database at all, but long enough to be looked at. '.repeat(20));
    expect(refusal(() => openStore(noDatabase)).code).toBe('file-unreadable');
    expect(refusal(() => openStore(join(folder, 'no', 'store.db'))).code).toBe('file-not-found');
    expect(refusal(() => openStore(folder)).code).toBe('file-unreadable');
  });

  it('lists in the order of arrival, even where the clock stands still or jumps back', async () => {
    let nowMs = 5_000;
    const store = openStore(newFile(), { nowMs: () => nowMs });
    await store.routes.add([file('a', 'A', 'B', 'C')], 'm');
    nowMs = 1_000;
    await store.routes.add([file('d', 'D')], 'm');
    const names: string[] = [];
    let after = null;
    for (;;) {
      const page = await store.routes.list({ limit: 1, after });
      const [row] = page;
      if (row === undefined) break;
      names.push(row.route.name);
      after = { createdAtMs: row.createdAtMs, id: row.id };
    }
    expect(names).toEqual(['A', 'B', 'C', 'D']);
    await store.close();
  });

  it('stores the routes of several files all or nothing', async () => {
    const store = openStore(newFile());
    const broken = { ...route('B'), name: null as unknown as string };
    const files = [file('a', 'A'), { contentHash: 'b', routes: [withRow(broken)] }];
    await expect(store.routes.add(files, 'm')).rejects.toThrow();
    expect(await store.routes.all()).toEqual([]);
    await store.close();
  });

  it('stores a file once, and puts back what was deleted of it', async () => {
    const store = openStore(newFile());
    const first = await store.routes.add([file('a', 'A', 'B')], 'm');
    expect(await store.routes.add([file('a', 'A', 'B')], 'm')).toEqual({ routes: first.routes, created: 0 });
    expect(await store.routes.ofContent('a')).toEqual(first.routes);
    const [a, b] = first.routes;
    expect(await store.routes.delete(a?.id ?? '', null)).toBe(true);
    expect(await store.routes.ofContent('a')).toBeNull();
    const again = await store.routes.add([file('a', 'A', 'B')], 'm');
    expect(again.created).toBe(1);
    expect(again.routes[1]).toEqual(b);
    await store.close();
  });

  it('replaces only the revision that was seen', async () => {
    const store = openStore(newFile(), counted());
    const { routes } = await store.routes.add([file('a', 'A')], 'm');
    const id = routes[0]?.id ?? '';
    expect(await store.routes.replace(id, 2, withRow(route('X')), 'm')).toBeNull();
    const changed = await store.routes.replace(id, 1, withRow(route('X')), 'm2');
    expect(changed).toMatchObject({ revision: 2, method: 'm2', route: { name: 'X' } });
    expect(await store.routes.replace(id, 1, withRow(route('Y')), 'm')).toBeNull();
    expect(await store.routes.delete(id, 1)).toBe(false);
    expect(await store.routes.delete(id, 2)).toBe(true);
    expect(await store.routes.notMeasuredBy('m')).toEqual([]);
    await store.close();
  });

  it('deletes a cohort with its outings, and takes no outing for one that is gone', async () => {
    const store = openStore(newFile());
    const { id } = await store.cohorts.add({ name: 'A', participants: 2 }, [outing(), outing()]);
    expect(await store.outings.list(id, FROM_START)).toHaveLength(2);
    expect(await store.cohorts.delete(id, null)).toBe(true);
    expect(await store.outings.all(id)).toEqual([]);
    expect(await store.outings.add(id, outing())).toBeNull();
    await store.close();
  });

  it('keeps an outing of another cohort out of reach', async () => {
    const store = openStore(newFile());
    const a = await store.cohorts.add({ name: 'A', participants: 2 }, [outing()]);
    const b = await store.cohorts.add({ name: 'B', participants: 2 }, []);
    const [own] = await store.outings.all(a.id);
    const id = own?.id ?? '';
    expect(await store.outings.get(b.id, id)).toBeNull();
    expect(await store.outings.delete(b.id, id)).toBe(false);
    expect(await store.outings.get(a.id, id)).not.toBeNull();
    await store.close();
  });

  it('leaves no trace of an erased cohort in any of its files', async () => {
    const path = newFile();
    const store = openStore(path);
    const holds = (text: string): boolean =>
      ['', '-wal', '-shm'].some((end) => {
        try {
          return readFileSync(`${path}${end}`).includes(text);
        } catch {
          return false;
        }
      });
    const labels = Array.from({ length: 300 }, (_, i) => `Zq7Label${i}`);
    const { id } = await store.cohorts.add({ name: 'WhimbrelKids', participants: 300, members: labels }, [
      outing(labels),
      outing(['Zq7Label0']),
    ]);
    expect(holds('Zq7Label0')).toBe(true);
    // A label that the cohort gives up leaves its outings.
    const fewer = labels.slice(1);
    await store.cohorts.replace(id, 1, { name: 'WhimbrelKids', participants: 300, members: fewer });
    expect((await store.outings.all(id)).map((row) => row.outing.members?.length)).toEqual([299, 0]);
    await store.checkpoint();
    expect(holds('Zq7Label0"')).toBe(false);
    expect(holds('Zq7Label1"')).toBe(true);
    await store.cohorts.delete(id, null);
    await store.checkpoint();
    expect(holds('Zq7Label')).toBe(false);
    expect(holds('WhimbrelKids')).toBe(false);
    await store.close();
  });
});
