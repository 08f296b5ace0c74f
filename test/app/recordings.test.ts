import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Ground, routesOf } from '../../src/app/measure.ts';
import { cohortRecordOf, outingOfTrack } from '../../src/app/recordings.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { DESIGN } from '../../src/design.ts';
import { destination, type Place } from '../../src/earth/geodesic.ts';
import { readTracks } from '../../src/ingest/read-tracks.ts';
import type { TrackPoint } from '../../src/ingest/track.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { normal, seeded } from '../capability/recording/jittery.ts';
import { recorded, WALK } from '../capability/recording/recorded.ts';
import { bytesOf } from '../ingest/samples.ts';
import { TOP, writeMountain } from '../support/mountain.ts';
import { tempFolder } from '../support/temp-folder.ts';

type Points = readonly TrackPoint[];

const gpx = (...segments: readonly Points[]): Uint8Array => {
  const point = ({ latDeg, lonDeg, timeMs }: TrackPoint) =>
    `<trkpt lat="${latDeg.toFixed(7)}" lon="${lonDeg.toFixed(7)}">${timeMs === null ? '' : `<time>${new Date(timeMs).toISOString()}</time>`}</trkpt>`;
  const parts = segments.map((points) => `<trkseg>${points.map(point).join('')}</trkseg>`).join('');
  return bytesOf(
    `<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>A day</name>${parts}</trk></gpx>`,
  );
};
const codes = ({ notes }: Outing) => notes.map(({ code }) => code);
const record = { date: '2026-06-20', rockClass: '1', members: null };

/** A drive at 20 km/h that ends at a place at a time, and one that begins there; a point every 10 s. */
const driveTo = (place: Place, atMs: number, minutes: number): TrackPoint[] =>
  Array.from({ length: minutes * 6 }, (_, i) => {
    const steps = minutes * 6 - i;
    const there = destination(place, 250, (steps * 200) / 3.6);
    return { ...there, elevationM: null, timeMs: atMs - steps * 10_000 };
  });
const driveFrom = (place: Place, atMs: number, minutes: number): TrackPoint[] =>
  driveTo(place, 0, minutes)
    .reverse()
    .map((point) => ({ ...point, timeMs: atMs - (point.timeMs ?? 0) }));

function withDrives(walk: Points): TrackPoint[] {
  const [first] = walk;
  const last = walk.at(-1);
  if (first === undefined || last === undefined) throw new RangeError('no walk');
  return [...driveTo(first, first.timeMs ?? 0, 12), ...walk, ...driveFrom(last, last.timeMs ?? 0, 15)];
}

describe('a recorded day', () => {
  const folder = tempFolder();
  let ground: Ground;
  beforeAll(async () => {
    writeMountain(join(folder, 'mountain.tif'));
    ground = { surface: await openSurface([join(folder, 'mountain.tif')]), design: DESIGN };
  });
  afterAll(() => ground.surface.close());

  const foot = destination(TOP, 180, 3000);
  /** Up to 300 m below the top and back down, 45 min each. */
  const walk: Points =
    recorded(
      [
        { ...WALK, minutes: 40, bearingDeg: 0 },
        { ...WALK, minutes: 40, bearingDeg: 180 },
      ],
      foot,
    ).segments[0] ?? [];
  const outing = (bytes: Uint8Array, home: Place | null = null) =>
    outingOfTrack({ bytes, fileName: 'day.gpx' }, record, ground, home);

  it('with a drive at both ends is the walk without them: length within 2 %, time within 2 min', async () => {
    const plain = await outing(gpx(walk));
    const driven = await outing(gpx(withDrives(walk)));
    expect(codes(driven)).toContain('drive-cut');
    expect(Math.abs(driven.distanceM / plain.distanceM - 1)).toBeLessThan(0.02);
    expect(Math.abs((driven.gainM ?? 0) / (plain.gainM ?? 0) - 1)).toBeLessThan(0.03);
    expect(Math.abs((driven.movingMin ?? 0) - (plain.movingMin ?? 0))).toBeLessThan(2);
    expect(driven.parts).toHaveLength(2);
  });

  it('with a gap counts what was recorded, and learns each way once', async () => {
    const cut = gpx(walk.slice(0, 100), walk.slice(140));
    const whole = await outing(gpx(walk));
    const holed = await outing(cut);
    expect(codes(holed).filter((code) => code === 'gap')).toHaveLength(1);
    expect(holed.distanceM).toBeLessThan(whole.distanceM);
    expect(holed.gainM).toBeGreaterThan(0);
    expect(holed.gainM).toBeLessThan(whole.gainM ?? 0);
    expect(holed.parts).toHaveLength(2);
    expect(codes(holed)).not.toContain('heights-missing');
  });

  it('keeps nothing of what lies near the meeting place, and refuses a day that never left it', async () => {
    const whole = await outing(gpx(walk));
    const cut = await outing(gpx(walk), foot);
    // 500 m at either end (architecture: minors), and the 677 m by which 0.005 degrees may be off at 46.1 N
    expect(whole.distanceM - cut.distanceM).toBeGreaterThan(2 * 1170);
    expect(whole.distanceM - cut.distanceM).toBeLessThan(2 * 1200);
    expect(codes(cut)).toContain('ends-cut');
    await expect(outing(gpx(walk.slice(0, 30)), foot)).rejects.toMatchObject({ code: 'bad-outing' });
  });

  it('takes the meeting place from the cohort', async () => {
    const cohort = {
      name: 'Lantern Group',
      participants: 6,
      home: { lat: foot.latDeg, lon: foot.lonDeg },
      outings: [{ date: '2026-06-20', track: 'day.gpx' }],
    };
    const { outings } = await cohortRecordOf(cohort, async () => gpx(walk), ground);
    expect(outings.flatMap(codes)).toContain('ends-cut');
  });

  it('without a clock counts for distance and climb only', async () => {
    const still = await outing(gpx(walk.map((point) => ({ ...point, timeMs: null }))));
    expect(codes(still)).toContain('no-clock');
    expect(still).toMatchObject({ parts: [], movingMin: null, clockFromMs: null, clockToMs: null });
    expect(still.gainM).toBeGreaterThan(0);
  });
});

describe('a recording made to go wrong', () => {
  const folder = tempFolder();
  let ground: Ground;
  beforeAll(async () => {
    writeMountain(join(folder, 'mountain.tif'));
    ground = { surface: await openSurface([join(folder, 'mountain.tif')]), design: DESIGN };
  });
  afterAll(() => ground.surface.close());

  const foot = destination(TOP, 180, 3000);
  const up = { ...WALK, minutes: 40, bearingDeg: 0 };
  const down = { ...up, bearingDeg: 180 };
  const legs = (...some: Parameters<typeof recorded>[0]): Points => recorded(some, foot).segments[0] ?? [];
  const walk = legs(up, down);
  const outing = (bytes: Uint8Array, date = record.date) =>
    outingOfTrack({ bytes, fileName: 'day.gpx' }, { ...record, date }, ground, null);
  const every = (points: Points, seconds: number) =>
    points.filter(({ timeMs }) => ((timeMs ?? 0) / 1000) % seconds === 0);
  const last = walk.at(-1) ?? { ...foot, timeMs: 0 };
  const first = walk[0] ?? last;

  /** A road at 100 km/h, a point every 20 s: steps of 556 m. */
  const fast = (place: Place, atMs: number, sign: 1 | -1): TrackPoint[] =>
    Array.from({ length: 45 }, (_, i) => {
      const there = destination(place, 200, (i + 1) * 555.6);
      return { ...there, elevationM: null, timeMs: atMs + sign * (i + 1) * 20_000 };
    });

  it.each([10, 20, 60])('with sparse drives at both ends, walked at a point every %i s', async (seconds) => {
    const day = [
      ...fast(first, first.timeMs ?? 0, -1).reverse(),
      ...every(walk, seconds),
      ...fast(last, last.timeMs ?? 0, 1),
    ];
    const plain = await outing(gpx(walk));
    const driven = await outing(gpx(day));
    expect(codes(driven)).toEqual(expect.arrayContaining(['drive-cut']));
    expect(codes(driven)).not.toContain('coarse-geometry');
    expect(driven.distanceM / plain.distanceM).toBeGreaterThan(0.97);
    expect(driven.distanceM / plain.distanceM).toBeLessThan(1.005);
    expect(Math.abs((driven.movingMin ?? 0) - (plain.movingMin ?? 0))).toBeLessThan(2.5);
  });

  it('as a candidate route is refused with such a drive, as ever', async () => {
    const day = gpx([...walk, ...fast(last, last.timeMs ?? 0, 1)]);
    await expect(routesOf({ bytes: day, fileName: 'day.gpx' }, ground)).rejects.toMatchObject({
      code: 'implausible-jump',
    });
  });

  it('with a chair lift that the file has no heights of', async () => {
    // 2.4 m/s up a slope of 30 %: 0.72 m/s of height, and slower along the ground than a ride is known by
    const lift = { minutes: 13, speedMs: 2.4, bearingDeg: 0 };
    const ridden = await outing(gpx(legs({ ...up, minutes: 12 }, lift, { ...down, minutes: 35 })));
    expect(codes(ridden)).toContain('ride-cut');
    expect(Math.abs(ridden.distanceM - 47 * 60 * 1.1)).toBeLessThan(200);
    expect(ridden.gainM ?? 0).toBeLessThan(300);
  });

  it('with a ferry in the middle', async () => {
    const ferry = { minutes: 20, speedMs: 4.5, bearingDeg: 270 };
    const crossed = await outing(gpx(legs({ ...up, bearingDeg: 60 }, ferry, { ...down, bearingDeg: 60 })));
    expect(codes(crossed)).toContain('ride-cut');
    expect(Math.abs(crossed.distanceM - 80 * 60 * 1.1)).toBeLessThan(100);
  });

  it('with the phone left on overnight counts one day, and says so', async () => {
    const night = { minutes: 20 * 60, speedMs: 0 };
    const days = gpx(legs(up, down, night, { ...up, minutes: 30 }, { ...down, minutes: 30 }));
    const one = await outing(days);
    expect(codes(one)).toContain('other-day-cut');
    expect(Math.abs(one.distanceM - 80 * 60 * 1.1)).toBeLessThan(60);
    const two = await outing(days, '2026-06-21');
    expect(Math.abs(two.distanceM - 60 * 60 * 1.1)).toBeLessThan(60);
  });

  it('without a time zone has no clock, and is told that a drive would not be seen', async () => {
    const text = new TextDecoder().decode(gpx(walk)).replaceAll('Z</time>', '</time>');
    const still = await outing(bytesOf(text));
    expect(codes(still)).toEqual(expect.arrayContaining(['time-zone-unknown', 'no-clock', 'rides-unseen']));
    expect(still).toMatchObject({ parts: [], movingMin: null });
  });

  it('with a clock that goes back at midnight never counts a minute twice, nor a negative one', async () => {
    const day = 86_400_000;
    const back = walk.map((point, i) => ({ ...point, timeMs: (point.timeMs ?? 0) - (i > 300 ? day : 0) }));
    const plain = await outing(gpx(walk));
    const found = await outing(gpx(back));
    expect(codes(found)).toContain('clock-jump');
    expect(found.distanceM / plain.distanceM).toBeGreaterThan(0.99);
    expect(found.distanceM / plain.distanceM).toBeLessThan(1.001);
    expect(found.movingMin).toBeGreaterThan(0);
    expect(found.movingMin).toBeLessThanOrEqual((plain.movingMin ?? 0) + 0.01);
  });

  it('by two devices at once in one file counts the way once', async () => {
    const other = walk.slice(20, 400).map((point) => ({ ...point, ...destination(point, 90, 6) }));
    const both = await outing(gpx(walk, other));
    const plain = await outing(gpx(walk));
    expect(codes(both)).toContain('second-recording');
    expect(both.distanceM).toBeCloseTo(plain.distanceM, 3);
    expect(both.movingMin).toBeCloseTo(plain.movingMin ?? 0, 3);
  });

  it('by a receiver that wanders is no longer than it was, and keeps its times', async () => {
    const random = seeded(3);
    let [east, north] = [0, 0];
    const wanders = walk.map((point) => {
      east = 0.7 * east + 4 * normal(random);
      north = 0.7 * north + 4 * normal(random);
      return { ...point, ...destination(destination(point, 90, east), 0, north) };
    });
    const plain = await outing(gpx(walk));
    const found = await outing(gpx(wanders));
    expect(codes(found)).toContain('jitter-left-out');
    expect(found.distanceM / plain.distanceM).toBeLessThan(1.02);
    expect(found.distanceM / plain.distanceM).toBeGreaterThan(0.97);
    expect(found.parts).toHaveLength(2);
    expect(Math.abs((found.movingMin ?? 0) - (plain.movingMin ?? 0))).toBeLessThan(2);
  });
});

const HIKE = '../shared/data/tracks/cima-sasso.gpx';

describe.skipIf(!existsSync(HIKE))('a real hike recorded from door to door (needs ../shared/data)', () => {
  it('is the hike without the drives and the hours in the car park', async () => {
    const surface = await openSurface(['../shared/data/dem/N46E008.tif']);
    try {
      const ground = { surface, design: DESIGN };
      const bytes = readFileSync(HIKE);
      const walk = readTracks(bytes)[0]?.segments.flat() ?? [];
      const last = walk.at(-1);
      const endMs = last?.timeMs ?? 0;
      if (last === undefined) throw new RangeError('no hike');
      // Three hours in the car park, within 30 m, then home.
      const parked = Array.from({ length: 360 }, (_, i) => ({
        ...destination(last, (i * 77) % 360, (i * 13) % 30),
        elevationM: null,
        timeMs: endMs + (i + 1) * 30_000,
      }));
      const home = driveFrom(last, endMs + 361 * 30_000, 20);
      const first = walk[0] ?? last;
      const there = driveTo(first, first.timeMs ?? 0, 20);
      const on = { ...record, date: '2016-04-10' };
      const plain = await outingOfTrack({ bytes }, on, ground, null);
      const whole = await outingOfTrack(
        { bytes: gpx([...there, ...walk, ...parked, ...home]) },
        on,
        ground,
        null,
      );
      expect(codes(whole)).toEqual(expect.arrayContaining(['drive-cut', 'left-running']));
      expect(Math.abs(whole.distanceM / plain.distanceM - 1)).toBeLessThan(0.02);
      expect(Math.abs((whole.gainM ?? 0) / (plain.gainM ?? 0) - 1)).toBeLessThan(0.02);
      expect(Math.abs((whole.movingMin ?? 0) - (plain.movingMin ?? 0))).toBeLessThan(2);
      expect(codes(plain)).not.toContain('drive-cut');
    } finally {
      await surface.close();
    }
  });
});
