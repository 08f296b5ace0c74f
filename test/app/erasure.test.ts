import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openContext } from '../../src/app/context.ts';
import { addOutingByHand, addOutingOfTrack, deleteOuting, listOutings } from '../../src/app/days.ts';
import {
  addCohort,
  deleteCohort,
  eraseAfter,
  eraseExpired,
  eraseMember,
  getCohort,
  listCohorts,
  putCohort,
  shownBy,
} from '../../src/app/groups.ts';
import { addRoutes } from '../../src/app/routes.ts';
import { fitOfRoute, shortlist } from '../../src/app/shortlist.ts';
import { DESIGN } from '../../src/design.ts';
import { openStore, type Store } from '../../src/storage/store.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { MS_PER_DAY } from '../../src/units.ts';
import { OnDisk } from '../support/on-disk.ts';
import { tempFolder } from '../support/temp-folder.ts';

const folder = tempFolder();
/** In each of these stores SQLite leaves copies where the file is not rebuilt. */
const SEEDS = [5, 7, 9];
const START_MS = Date.UTC(2026, 5, 1, 12);
const WALK = 'data/demo/cohorts/walks/seniors-marram-ridge.gpx';
let surface: Surface;
let nowMs = START_MS;
let count = 0;

beforeAll(async () => {
  surface = await openSurface(['data/demo/dem']);
});
afterAll(() => surface.close());

/** Numbers from 0 to 1, the same each time. */
function drawn(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
    return state / 2 ** 31;
  };
}

const contextOf = (store: Store, keepDays?: number) =>
  openContext({
    store,
    ground: { surface, design: DESIGN },
    nowMs: () => nowMs,
    ...(keepDays === undefined ? {} : { keepDays }),
  });

/** A context of its own file; `holds` searches the database and its log for a text as they are now. */
function fresh(keepDays?: number) {
  nowMs = START_MS;
  count += 1;
  const file = join(folder, `store-${count}.db`);
  let ids = 0;
  // Where rows lie in the file depends on their ids: the same each time.
  const random = (bytes: number) => {
    ids += 1;
    return createHash('sha256').update(String(ids)).digest().subarray(0, bytes);
  };
  const store = openStore(file, { nowMs: () => nowMs, random });
  const holds = (needle: string): boolean => new OnDisk(file).holds(needle);
  return { store, context: contextOf(store, keepDays), holds, file };
}

const COHORT = {
  name: 'Zephyrwort Group',
  participants: 3,
  members: ['qx7label', 'vk3label'],
  going: ['qx7label', 'vk3label'],
  home: { lat: 46.123456, lon: -30.234567 },
};
const DAY = { date: '2026-05-20', distanceM: 9000, gainM: 500, movingMin: 200 };
const FROM_START = { limit: 100, after: null };
const ASKED = { units: 'metric', limit: 5, verdicts: null, afterRank: 0, changes: null } as const;

describe('erasure', () => {
  it('of a cohort leaves nothing of it in the database or its log', async () => {
    const { store, context, holds } = fresh();
    const told = { turnedBecause: 'Gloomsome clouds', nearMisses: ['Pebblefall at the ford'] };
    const { id } = await addCohort(context, {
      ...COHORT,
      outings: [{ ...DAY, members: ['qx7label'], ...told }],
    });
    const words = ['Zephyrwort', 'qx7label', 'Gloomsome', 'Pebblefall'];
    expect(words.every(holds)).toBe(true);
    await deleteCohort(context, id, null);
    expect([...words, 'vk3label'].filter(holds)).toEqual([]);
    await store.close();
  });

  it('is finished once another process has stopped reading the log', async () => {
    const { store, context, holds, file } = fresh();
    const { id } = await addCohort(context, COHORT);
    const reader = new Database(file, { readonly: true });
    reader.exec('begin');
    reader.prepare('select count(*) from cohorts').get();
    await deleteCohort(context, id, null);
    // The requests of others go on meanwhile.
    expect(await listCohorts(context, FROM_START)).toEqual([]);
    expect(holds('Zephyrwort')).toBe(true);
    reader.exec('commit');
    reader.close();
    await expect.poll(() => holds('Zephyrwort'), { timeout: 20_000, interval: 200 }).toBe(false);
    await store.close();
  });

  it('of a label takes it from the cohort and from every outing, and the outings that were its own', async () => {
    const { store, context, holds } = fresh();
    const { id } = await addCohort(context, {
      ...COHORT,
      outings: [
        { ...DAY, members: ['qx7label'], nearMisses: ['Pebblefall at the ford'] },
        { ...DAY, members: ['qx7label', 'vk3label'] },
      ],
    });
    await eraseMember(context, id, 'qx7label');
    expect([holds('qx7label'), holds('Pebblefall')]).toEqual([false, false]);
    const { cohort } = await getCohort(context, id);
    expect([cohort.members, cohort.going]).toEqual([['vk3label'], ['vk3label']]);
    const outings = await listOutings(context, id, FROM_START);
    expect(outings.map(({ outing }) => outing.members)).toEqual([['vk3label']]);
    await expect(eraseMember(context, id, 'qx7label')).rejects.toMatchObject({ code: 'not-found' });
    await store.close();
  });

  it('of a label keeps the outings of the whole cohort, and leaves other cohorts alone', async () => {
    const { store, context } = fresh();
    const a = await addCohort(context, { ...COHORT, outings: [DAY] });
    const b = await addCohort(context, { ...COHORT, outings: [{ ...DAY, members: ['qx7label'] }] });
    await eraseMember(context, a.id, 'qx7label');
    await eraseMember(context, a.id, 'vk3label');
    expect(await listOutings(context, a.id, FROM_START)).toHaveLength(1);
    const left = await getCohort(context, a.id);
    expect(left).toMatchObject({ revision: 3, cohort: { members: [], going: [] } });
    expect((await getCohort(context, b.id)).cohort.members).toEqual(COHORT.members);
    expect(await listOutings(context, b.id, FROM_START)).toHaveLength(1);
    // What is left is still a cohort that can be sent back and asked about.
    await putCohort(context, a.id, left.revision, left.cohort);
    await shortlist(context, { ...ASKED, cohortId: a.id, date: '2026-07-11' });
    await store.close();
  });

  it('of one who alone was going asks for what all the others have shown', async () => {
    const { store, context } = fresh();
    const { id } = await addCohort(context, {
      ...COHORT,
      going: ['qx7label'],
      outings: [{ ...DAY, members: ['qx7label', 'vk3label'] }],
    });
    await eraseMember(context, id, 'qx7label');
    const { distanceM } = await shownBy(context, id, '2026-06-01');
    expect(distanceM?.asWalked).toBe(9000);
    await store.close();
  });

  it('of an outing leaves nothing of who was there', async () => {
    const { store, context, holds } = fresh();
    const { id } = await addCohort(context, { name: 'A', participants: 3, members: ['qx7label'] });
    const { id: outingId } = await addOutingByHand(context, id, { ...DAY, members: ['qx7label'] });
    await putCohort(context, id, 1, { name: 'A', participants: 3, members: ['qx7label', 'vk3label'] });
    await deleteOuting(context, id, outingId);
    await eraseMember(context, id, 'qx7label');
    expect([holds('qx7label'), holds('vk3label')]).toEqual([false, true]);
    await store.close();
  });

  it('reaches a label, a name and a meeting place that a cohort gives up when it is put', async () => {
    const { store, context, holds } = fresh();
    const home = { lat: 46.12, lon: -30.23, name: 'Quillfeather Hall' };
    const { id } = await addCohort(context, {
      ...COHORT,
      home,
      outings: [{ ...DAY, members: ['qx7label', 'vk3label'] }],
    });
    await putCohort(context, id, 1, { name: 'B', participants: 3, members: ['vk3label'] });
    expect(['qx7label', 'Zephyrwort', 'Quillfeather', 'vk3label'].map(holds)).toEqual([
      false,
      false,
      false,
      true,
    ]);
    await store.close();
  });

  it.each(SEEDS)(
    'leaves no copy in the unused part of a page of a store of many cohorts (%i)',
    async (seed) => {
      const { store, context, file } = fresh();
      const draw = drawn(seed);
      let made = 0;
      const newLabels = (atMost: number): string[] =>
        Array.from({ length: 1 + Math.floor(draw() * atMost) }, () => {
          made += 1;
          return `Zq${String(made).padStart(6, '0')}x`;
        });
      const groups: { readonly id: string; labels: string[] }[] = [];
      for (let i = 0; i < 60; i += 1) {
        const members = newLabels(30);
        const cohort = await addCohort(context, { name: 'A', participants: 400, members });
        groups.push({ id: cohort.id, labels: members });
      }
      // Rows that grow make SQLite move their neighbours to other pages; it does not clear where they stood.
      for (let i = 0; i < 60; i += 1) {
        const group = groups[Math.floor(draw() * groups.length)];
        if (group === undefined) continue;
        group.labels = [...group.labels, ...newLabels(30)];
        const { revision } = await getCohort(context, group.id);
        const grown = { name: 'A', participants: 400, members: group.labels };
        await store.cohorts.replace(group.id, revision, grown);
      }
      const erased = new Set<string>();
      for (const { id, labels } of groups) {
        if (draw() < 0.4) continue;
        const [one = ''] = labels;
        const isWhole = draw() < 0.7;
        if (isWhole) await deleteCohort(context, id, null);
        else await eraseMember(context, id, one);
        for (const label of isWhole ? labels : [one]) erased.add(label);
        const left = new OnDisk(file).all(/Zq\d{6}x/g);
        expect([...left].filter((label) => erased.has(label))).toEqual([]);
      }
      expect(erased.size).toBeGreaterThan(300);
      await store.close();
    },
  );

  it('is finished at the next start where the program was killed in the midst of it', async () => {
    const { store, context, file } = fresh();
    const { id } = await addCohort(context, COHORT);
    const marked = (): number => {
      const raw = new Database(file, { readonly: true });
      const rows = Number(raw.prepare("select count(*) from meta where key = 'erased'").pluck().get());
      raw.close();
      return rows;
    };
    expect(marked()).toBe(0);
    // The row is gone; what comes after it did not.
    await store.cohorts.delete(id, null);
    await store.close();
    expect(marked()).toBe(1);
    await openStore(file).close();
    expect(marked()).toBe(0);
    expect(new OnDisk(file).holds('Zephyrwort')).toBe(false);
  });

  it('waits for what other requests are writing', async () => {
    const { store, context, holds } = fresh();
    await Promise.all(
      Array.from({ length: 30 }, async () => {
        const { id } = await addCohort(context, { ...COHORT, outings: [DAY, DAY] });
        await eraseMember(context, id, 'qx7label');
        await deleteCohort(context, id, null);
      }),
    );
    expect([holds('Zephyrwort'), holds('label')]).toEqual([false, false]);
    await store.close();
  });
});

describe('keeping', () => {
  it('ends 90 days after the last trip, and not before', async () => {
    const { store, context, holds } = fresh();
    const { id } = await addCohort(context, { ...COHORT, outings: [DAY] });
    await shortlist(context, { ...ASKED, cohortId: id, date: '2026-07-11' });
    expect(eraseAfter(context, await getCohort(context, id))).toBe('2026-10-09');
    for (const [days, erased] of [
      [89, 0],
      [90, 0],
      [91, 1],
    ] as const) {
      nowMs = Date.UTC(2026, 6, 11, 12) + days * MS_PER_DAY;
      expect([days, await eraseExpired(context)]).toEqual([days, erased]);
    }
    await expect(getCohort(context, id)).rejects.toMatchObject({ code: 'not-found' });
    expect([holds('Zephyrwort'), holds('label')]).toEqual([false, false]);
    expect(await eraseExpired(context)).toBe(0);
    await store.close();
  });

  it('ends after as many days as the program sets, for each cohort on its own day', async () => {
    const { store, context } = fresh(10);
    const a = await addCohort(context, COHORT);
    nowMs += 5 * MS_PER_DAY;
    const b = await addCohort(context, COHORT);
    nowMs = START_MS + 11 * MS_PER_DAY;
    expect(await eraseExpired(context)).toBe(1);
    await expect(getCohort(context, a.id)).rejects.toMatchObject({ code: 'not-found' });
    expect(eraseAfter(context, await getCohort(context, b.id))).toBe('2026-06-16');
    await store.close();
  });

  it('counts from the latest of the day of storing, the outings and the days asked about', async () => {
    const { store, context } = fresh();
    const lastTrip = async (id: string) => (await getCohort(context, id)).lastTripDate;
    const { id } = await addCohort(context, { ...COHORT, outings: [DAY] });
    expect(await lastTrip(id)).toBe('2026-06-01');
    await addOutingByHand(context, id, { ...DAY, date: '2026-06-02' });
    expect(await lastTrip(id)).toBe('2026-06-02');
    await addOutingByHand(context, id, { ...DAY, date: '2025-06-02' });
    expect(await lastTrip(id)).toBe('2026-06-02');
    const bytes = readFileSync('data/demo/routes/two-knolls-round.gpx');
    const { routes } = await addRoutes(context, [{ bytes, mediaType: 'application/gpx+xml' }]);
    await fitOfRoute(context, {
      cohortId: id,
      routeId: routes[0]?.id ?? '',
      date: '2026-06-20',
    });
    expect(await lastTrip(id)).toBe('2026-06-20');
    await shortlist(context, { ...ASKED, cohortId: id, date: '2026-07-11' });
    await shortlist(context, { ...ASKED, cohortId: id, date: '2026-06-30' });
    expect(await lastTrip(id)).toBe('2026-07-11');
    const later = await addCohort(context, { ...COHORT, outings: [{ ...DAY, date: '2026-06-09' }, DAY] });
    expect(later.lastTripDate).toBe('2026-06-09');
    await store.close();
  });

  it('is not put off for years by a trip or an outing far ahead', async () => {
    const { store, context } = fresh();
    const asked = await addCohort(context, COHORT);
    await shortlist(context, { ...ASKED, cohortId: asked.id, date: '2199-01-01' });
    const slip = await addCohort(context, { ...COHORT, outings: [{ ...DAY, date: '2199-01-01' }] });
    const added = await addCohort(context, COHORT);
    await addOutingByHand(context, added.id, { ...DAY, date: '2199-01-01' });
    for (const { id } of [asked, slip, added]) {
      expect(eraseAfter(context, await getCohort(context, id))).toBe('2027-08-31');
    }
    await store.close();
  });

  it('writes nothing, and waits for no other writer, where the last trip does not change', async () => {
    const { store, context, file } = fresh();
    const { id } = await addCohort(context, COHORT);
    for (const date of ['2026-07-11', '2199-01-01'])
      await shortlist(context, { ...ASKED, cohortId: id, date });
    const writer = new Database(file);
    writer.exec('begin immediate');
    for (const date of ['2026-07-11', '2026-06-30', '2199-01-01']) {
      expect((await shortlist(context, { ...ASKED, cohortId: id, date })).asked.record.cohort.name).toBe(
        COHORT.name,
      );
    }
    writer.exec('rollback');
    writer.close();
    await store.close();
  });
});

describe('what is kept of minors', () => {
  const PERSONAL = ['Tattlebox', 'Gwendolyn', 'gwen.post', 'plumtree', 'Birthday', 'Wristwatch', 'SN-77'];

  /** The recording of a walk with everything personal that a device or a site writes into it. */
  function recorded(): string {
    return readFileSync(WALK, 'utf8')
      .replace(/creator="[^"]*"/, 'creator="Tattlebox 9"')
      .replace(
        '<trk>',
        `<metadata><name>Birthday walk</name><desc>Birthday</desc><author><name>Gwendolyn Ash</name>
         <email id="gwen.post" domain="plumtree.example"/><link href="https://plumtree.example/gwen.post"/></author>
         <time>2026-07-01T08:10:00Z</time></metadata>
         <wpt lat="46.171234" lon="-30.101234"><name>Gwendolyn's</name></wpt><trk>`,
      )
      .replace(
        /<name>Marram Ridge<\/name>/,
        `<name>Gwendolyn's Birthday</name><cmt>Birthday</cmt><desc>Birthday</desc><src>Wristwatch SN-77</src>
         <extensions><device>Wristwatch SN-77</device></extensions>`,
      );
  }

  /** As written, and cut to 5 decimals (1 m) without the sign. */
  const digitsOf = (degrees: string): string[] => [degrees, degrees.replace('-', '').slice(0, 8)];

  it('is no position, name, author or device of a recorded day', async () => {
    const { store, context, file } = fresh();
    const { id } = await addCohort(context, COHORT);
    const text = recorded();
    for (const word of PERSONAL) expect(text).toContain(word);
    const positions = [...text.matchAll(/lat="([\d.-]+)" lon="([\d.-]+)"/g)].map(([, lat = '', lon = '']) => [
      lat,
      lon,
    ]);
    expect(positions.length).toBeGreaterThan(2000);
    const bytes = new TextEncoder().encode(text);
    const { outing } = await addOutingOfTrack(context, id, {
      bytes,
      mediaType: 'application/gpx+xml',
      date: '2026-07-01',
      rockClass: '1',
      members: ['qx7label'],
    });
    const kept = new OnDisk(file);
    // What is kept of the day is found, so the search works.
    expect(kept.holds(String(outing.distanceM))).toBe(true);
    const found = positions
      .flat()
      .filter((degrees) => digitsOf(degrees).some((part) => kept.holds(part)) || kept.holdsDouble(+degrees));
    expect(found).toEqual([]);
    for (const word of PERSONAL) expect([word, kept.holds(word)]).toEqual([word, false]);
    await store.close();
  });

  it('would be found by that search: a candidate route does keep its line', async () => {
    const { store, context, file } = fresh();
    const text = recorded();
    await addRoutes(context, [{ bytes: new TextEncoder().encode(text), mediaType: 'application/gpx+xml' }]);
    const kept = new OnDisk(file);
    const latitudes = [...text.matchAll(/<trkpt lat="([\d.]+)"/g)].map(([, lat = '']) => lat);
    const share =
      latitudes.filter((lat) => digitsOf(lat).some((part) => kept.holds(part))).length / latitudes.length;
    expect(share).toBeGreaterThan(0.5);
    expect(kept.holds('46.12345')).toBe(false);
    await store.close();
  });

  it('is no meeting place finer than 0.01°, neither added nor put', async () => {
    const { store, context, file } = fresh();
    const { id } = await addCohort(context, { ...COHORT, home: { lat: 46.123456, lon: -30.234567 } });
    await putCohort(context, id, 1, { ...COHORT, home: { lat: 46.987654, lon: -30.876543 } });
    const kept = new OnDisk(file);
    expect((await getCohort(context, id)).cohort.home).toEqual({ lat: 46.99, lon: -30.88 });
    for (const digits of ['46.123', '30.234', '46.987', '30.876']) {
      expect([digits, kept.holds(digits)]).toEqual([digits, false]);
    }
    for (const degrees of [46.123456, -30.234567, 46.987654, -30.876543]) {
      expect([degrees, kept.holdsDouble(degrees)]).toEqual([degrees, false]);
    }
    expect(kept.holds('46.99')).toBe(true);
    await store.close();
  });
});
