import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openLibrary, type ShortlistQuery } from '../../src/app/library.ts';
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

const libraryOf = (store: Store, keepDays?: number) =>
  openLibrary({
    store,
    ground: { surface, design: DESIGN },
    nowMs: () => nowMs,
    ...(keepDays === undefined ? {} : { keepDays }),
  });

/** A library of its own file; `holds` searches the database and its log for a text as they are now. */
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
  return { store, library: libraryOf(store, keepDays), holds, file };
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
const ASKED: ShortlistQuery = { units: 'metric', limit: 5, verdicts: null, afterRank: 0 };

describe('erasure', () => {
  it('of a cohort leaves nothing of it in the database or its log', async () => {
    const { store, library, holds } = fresh();
    const told = { turnedBecause: 'Gloomsome clouds', nearMisses: ['Pebblefall at the ford'] };
    const { id } = await library.addCohort({
      ...COHORT,
      outings: [{ ...DAY, members: ['qx7label'], ...told }],
    });
    const words = ['Zephyrwort', 'qx7label', 'Gloomsome', 'Pebblefall'];
    expect(words.every(holds)).toBe(true);
    await library.deleteCohort(id, null);
    expect([...words, 'vk3label'].filter(holds)).toEqual([]);
    await store.close();
  });

  it('is finished once another process has stopped reading the log', async () => {
    const { store, library, holds, file } = fresh();
    const { id } = await library.addCohort(COHORT);
    const reader = new Database(file, { readonly: true });
    reader.exec('begin');
    reader.prepare('select count(*) from cohorts').get();
    await library.deleteCohort(id, null);
    // The requests of others go on meanwhile.
    expect(await library.listCohorts(FROM_START)).toEqual([]);
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
        { ...DAY, members: ['qx7label'], nearMisses: ['Pebblefall at the ford'] },
        { ...DAY, members: ['qx7label', 'vk3label'] },
      ],
    });
    await library.eraseMember(id, 'qx7label');
    expect([holds('qx7label'), holds('Pebblefall')]).toEqual([false, false]);
    const { cohort } = await library.getCohort(id);
    expect([cohort.members, cohort.going]).toEqual([['vk3label'], ['vk3label']]);
    const outings = await library.listOutings(id, FROM_START);
    expect(outings.map(({ outing }) => outing.members)).toEqual([['vk3label']]);
    await expect(library.eraseMember(id, 'qx7label')).rejects.toMatchObject({ code: 'not-found' });
    await store.close();
  });

  it('of a label keeps the outings of the whole cohort, and leaves other cohorts alone', async () => {
    const { store, library } = fresh();
    const a = await library.addCohort({ ...COHORT, outings: [DAY] });
    const b = await library.addCohort({ ...COHORT, outings: [{ ...DAY, members: ['qx7label'] }] });
    await library.eraseMember(a.id, 'qx7label');
    await library.eraseMember(a.id, 'vk3label');
    expect(await library.listOutings(a.id, FROM_START)).toHaveLength(1);
    const left = await library.getCohort(a.id);
    expect(left).toMatchObject({ revision: 3, cohort: { members: [], going: [] } });
    expect((await library.getCohort(b.id)).cohort.members).toEqual(COHORT.members);
    expect(await library.listOutings(b.id, FROM_START)).toHaveLength(1);
    // What is left is still a cohort that can be sent back and asked about.
    await library.putCohort(a.id, left.revision, left.cohort);
    await library.shortlist(a.id, '2026-07-11', ASKED);
    await store.close();
  });

  it('of one who alone was going asks for what all the others have shown', async () => {
    const { store, library } = fresh();
    const { id } = await library.addCohort({
      ...COHORT,
      going: ['qx7label'],
      outings: [{ ...DAY, members: ['qx7label', 'vk3label'] }],
    });
    await library.eraseMember(id, 'qx7label');
    const { distanceM } = await library.shown(id, '2026-06-01');
    expect(distanceM?.asWalked).toBe(9000);
    await store.close();
  });

  it('of an outing leaves nothing of who was there', async () => {
    const { store, library, holds } = fresh();
    const { id } = await library.addCohort({ name: 'A', participants: 3, members: ['qx7label'] });
    const { id: outingId } = await library.addOutingByHand(id, { ...DAY, members: ['qx7label'] });
    await library.putCohort(id, 1, { name: 'A', participants: 3, members: ['qx7label', 'vk3label'] });
    await library.deleteOuting(id, outingId);
    await library.eraseMember(id, 'qx7label');
    expect([holds('qx7label'), holds('vk3label')]).toEqual([false, true]);
    await store.close();
  });

  it('reaches a label, a name and a meeting place that a cohort gives up when it is put', async () => {
    const { store, library, holds } = fresh();
    const home = { lat: 46.12, lon: -30.23, name: 'Quillfeather Hall' };
    const { id } = await library.addCohort({
      ...COHORT,
      home,
      outings: [{ ...DAY, members: ['qx7label', 'vk3label'] }],
    });
    await library.putCohort(id, 1, { name: 'B', participants: 3, members: ['vk3label'] });
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
      const { store, library, file } = fresh();
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
        const cohort = await library.addCohort({ name: 'A', participants: 400, members });
        groups.push({ id: cohort.id, labels: members });
      }
      // Rows that grow make SQLite move their neighbours to other pages; it does not clear where they stood.
      for (let i = 0; i < 60; i += 1) {
        const group = groups[Math.floor(draw() * groups.length)];
        if (group === undefined) continue;
        group.labels = [...group.labels, ...newLabels(30)];
        const { revision } = await library.getCohort(group.id);
        const grown = { name: 'A', participants: 400, members: group.labels };
        await store.cohorts.replace(group.id, revision, grown);
      }
      const erased = new Set<string>();
      for (const { id, labels } of groups) {
        if (draw() < 0.4) continue;
        const [one = ''] = labels;
        const isWhole = draw() < 0.7;
        if (isWhole) await library.deleteCohort(id, null);
        else await library.eraseMember(id, one);
        for (const label of isWhole ? labels : [one]) erased.add(label);
        const left = new OnDisk(file).all(/Zq\d{6}x/g);
        expect([...left].filter((label) => erased.has(label))).toEqual([]);
      }
      expect(erased.size).toBeGreaterThan(300);
      await store.close();
    },
  );

  it('is finished at the next start where the program was killed in the midst of it', async () => {
    const { store, library, file } = fresh();
    const { id } = await library.addCohort(COHORT);
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
    const { store, library, holds } = fresh();
    await Promise.all(
      Array.from({ length: 30 }, async () => {
        const { id } = await library.addCohort({ ...COHORT, outings: [DAY, DAY] });
        await library.eraseMember(id, 'qx7label');
        await library.deleteCohort(id, null);
      }),
    );
    expect([holds('Zephyrwort'), holds('label')]).toEqual([false, false]);
    await store.close();
  });
});

describe('keeping', () => {
  it('ends 90 days after the last trip, and not before', async () => {
    const { store, library, holds } = fresh();
    const { id } = await library.addCohort({ ...COHORT, outings: [DAY] });
    await library.shortlist(id, '2026-07-11', ASKED);
    expect(library.eraseAfter(await library.getCohort(id))).toBe('2026-10-09');
    for (const [days, erased] of [
      [89, 0],
      [90, 0],
      [91, 1],
    ] as const) {
      nowMs = Date.UTC(2026, 6, 11, 12) + days * MS_PER_DAY;
      expect([days, await library.eraseExpired()]).toEqual([days, erased]);
    }
    await expect(library.getCohort(id)).rejects.toMatchObject({ code: 'not-found' });
    expect([holds('Zephyrwort'), holds('label')]).toEqual([false, false]);
    expect(await library.eraseExpired()).toBe(0);
    await store.close();
  });

  it('ends after as many days as the program sets, for each cohort on its own day', async () => {
    const { store, library } = fresh(10);
    const a = await library.addCohort(COHORT);
    nowMs += 5 * MS_PER_DAY;
    const b = await library.addCohort(COHORT);
    nowMs = START_MS + 11 * MS_PER_DAY;
    expect(await library.eraseExpired()).toBe(1);
    await expect(library.getCohort(a.id)).rejects.toMatchObject({ code: 'not-found' });
    expect(library.eraseAfter(await library.getCohort(b.id))).toBe('2026-06-16');
    await store.close();
  });

  it('counts from the latest of the day of storing, the outings and the days asked about', async () => {
    const { store, library } = fresh();
    const lastTrip = async (id: string) => (await library.getCohort(id)).lastTripDate;
    const { id } = await library.addCohort({ ...COHORT, outings: [DAY] });
    expect(await lastTrip(id)).toBe('2026-06-01');
    await library.addOutingByHand(id, { ...DAY, date: '2026-06-02' });
    expect(await lastTrip(id)).toBe('2026-06-02');
    await library.addOutingByHand(id, { ...DAY, date: '2025-06-02' });
    expect(await lastTrip(id)).toBe('2026-06-02');
    const bytes = readFileSync('data/demo/routes/two-knolls-round.gpx');
    const { routes } = await library.addRoutes([{ bytes, mediaType: 'application/gpx+xml' }]);
    await library.fit(id, routes[0]?.id ?? '', '2026-06-20', 'metric');
    expect(await lastTrip(id)).toBe('2026-06-20');
    await library.shortlist(id, '2026-07-11', ASKED);
    await library.shortlist(id, '2026-06-30', ASKED);
    expect(await lastTrip(id)).toBe('2026-07-11');
    const later = await library.addCohort({ ...COHORT, outings: [{ ...DAY, date: '2026-06-09' }, DAY] });
    expect(later.lastTripDate).toBe('2026-06-09');
    await store.close();
  });

  it('is not put off for years by a trip or an outing far ahead', async () => {
    const { store, library } = fresh();
    const asked = await library.addCohort(COHORT);
    await library.shortlist(asked.id, '2199-01-01', ASKED);
    const slip = await library.addCohort({ ...COHORT, outings: [{ ...DAY, date: '2199-01-01' }] });
    const added = await library.addCohort(COHORT);
    await library.addOutingByHand(added.id, { ...DAY, date: '2199-01-01' });
    for (const { id } of [asked, slip, added]) {
      expect(library.eraseAfter(await library.getCohort(id))).toBe('2027-08-31');
    }
    await store.close();
  });

  it('writes nothing, and waits for no other writer, where the last trip does not change', async () => {
    const { store, library, file } = fresh();
    const { id } = await library.addCohort(COHORT);
    for (const date of ['2026-07-11', '2199-01-01']) await library.shortlist(id, date, ASKED);
    const writer = new Database(file);
    writer.exec('begin immediate');
    for (const date of ['2026-07-11', '2026-06-30', '2199-01-01']) {
      expect((await library.shortlist(id, date, ASKED)).record.cohort.name).toBe(COHORT.name);
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
    const { store, library, file } = fresh();
    const { id } = await library.addCohort(COHORT);
    const text = recorded();
    for (const word of PERSONAL) expect(text).toContain(word);
    const positions = [...text.matchAll(/lat="([\d.-]+)" lon="([\d.-]+)"/g)].map(([, lat = '', lon = '']) => [
      lat,
      lon,
    ]);
    expect(positions.length).toBeGreaterThan(2000);
    const bytes = new TextEncoder().encode(text);
    const { outing } = await library.addOutingOfTrack(id, {
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
    const { store, library, file } = fresh();
    const text = recorded();
    await library.addRoutes([{ bytes: new TextEncoder().encode(text), mediaType: 'application/gpx+xml' }]);
    const kept = new OnDisk(file);
    const latitudes = [...text.matchAll(/<trkpt lat="([\d.]+)"/g)].map(([, lat = '']) => lat);
    const share =
      latitudes.filter((lat) => digitsOf(lat).some((part) => kept.holds(part))).length / latitudes.length;
    expect(share).toBeGreaterThan(0.5);
    expect(kept.holds('46.12345')).toBe(false);
    await store.close();
  });

  it('is no meeting place finer than 0.01°, neither added nor put', async () => {
    const { store, library, file } = fresh();
    const { id } = await library.addCohort({ ...COHORT, home: { lat: 46.123456, lon: -30.234567 } });
    await library.putCohort(id, 1, { ...COHORT, home: { lat: 46.987654, lon: -30.876543 } });
    const kept = new OnDisk(file);
    expect((await library.getCohort(id)).cohort.home).toEqual({ lat: 46.99, lon: -30.88 });
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
