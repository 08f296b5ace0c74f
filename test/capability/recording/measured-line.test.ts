import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { intervalsOf } from '../../../src/capability/recording/intervals.ts';
import { lengthM } from '../../../src/capability/recording/line.ts';
import { measuredAlongM, measuredLine } from '../../../src/capability/recording/measured-line.ts';
import { DESIGN } from '../../../src/design.ts';
import { destination } from '../../../src/earth/geodesic.ts';
import type { Track } from '../../../src/ingest/track.ts';
import type { NoteValues } from '../../../src/notes.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import {
  jittery,
  lengthOfWay,
  type Receiver,
  STRAIGHT,
  seeded,
  switchbacks,
  type Way,
  winding,
} from './jittery.ts';
import { recorded, WALK } from './recorded.ts';

const limits = DESIGN.recording;
const measured = (track: Track) => measuredLine(track, limits);
const share = (way: Way, receiver: Receiver, rests = 0) => {
  const seeds = [11, 12];
  const lengths = seeds.map((seed) => lengthM(measured(jittery(way, receiver, rests, seed)).segments));
  return lengths.reduce((sum, length) => sum + length, 0) / seeds.length / lengthOfWay(way) - 1;
};
const receivers = [1, 5, 15].flatMap((everyS) =>
  [3, 6].flatMap((spreadM) => [10, 30, 60].map((memoryS): Receiver => ({ spreadM, memoryS, everyS }))),
);

describe('measuredLine', () => {
  it.each(receivers)(
    'takes the jitter off a recording: $spreadM m, $memoryS s, every $everyS s',
    (receiver) => {
      // Raw, these are up to 390 % too long. Tolerances: just above what is measured.
      const most = receiver.spreadM === 3 ? 0.035 : receiver.memoryS === 10 ? 0.09 : 0.05;
      const bends = winding(seeded(7));
      const [straight, bent] = [share(STRAIGHT, receiver, 4), share(bends, receiver, 4)];
      const steep = share(switchbacks(60, 15), receiver, 0);
      for (const found of [straight, bent, steep]) expect(found).toBeLessThan(most);
      expect(straight).toBeGreaterThan(-0.005);
      expect(bent).toBeGreaterThan(-0.03);
      expect(steep).toBeGreaterThan(-0.16);
    },
  );

  it('leaves a recording as it is where its receiver does not wander, switchbacks and all', () => {
    for (const way of [STRAIGHT, winding(seeded(7)), switchbacks(60, 15), switchbacks(30, 8)]) {
      const track = jittery(way, { spreadM: 0.01, memoryS: 30, everyS: 1 }, 0, 1);
      expect(lengthM(measured(track).segments) / lengthM(track.segments)).toBeGreaterThan(0.99);
      expect(measured(track).notes).toEqual([]);
    }
  });

  it('says how much shorter the line is', () => {
    const track = jittery(STRAIGHT, { spreadM: 6, memoryS: 30, everyS: 1 }, 0, 1);
    const [note, ...more] = measured(track).notes;
    expect(more).toEqual([]);
    if (note?.code !== 'jitter-left-out' || !('values' in note)) throw new Error('no such note');
    const { recordedM, countedM } = note.values as NoteValues['jitter-left-out'];
    expect(recordedM).toBeGreaterThan(12_000);
    expect(recordedM).toBeLessThan(14_000);
    expect(countedM).toBeGreaterThan(5950);
    expect(countedM).toBeLessThan(6350);
  });

  it('counts no distance in a rest, at one place or within 20 m', () => {
    const rest = { minutes: 40, speedMs: 0 };
    const track = recorded([WALK, rest, WALK]);
    expect(Math.abs(lengthM(measured(track).segments) - 2 * 90 * 60 * 1.1)).toBeLessThan(40);
  });

  it('keeps the last metres to a top inside a wide rest', () => {
    const up = { minutes: 1, speedMs: 0.8, bearingDeg: 0 };
    const down = { ...up, bearingDeg: 180 };
    const rest = { minutes: 8, speedMs: 0 };
    const track = recorded([WALK, rest, up, rest, down, WALK]);
    expect(lengthM(measured(track).segments)).toBeGreaterThan(2 * 90 * 60 * 1.1 + 40);
  });

  it('takes bends under 10 m off a line without times, and no more', () => {
    const points = Array.from({ length: 101 }, (_, i) => ({
      ...destination(destination(SOMEWHERE, 90, i * 20), 0, i % 2 === 0 ? 0 : i < 50 ? 5 : 25),
      elevationM: null,
      timeMs: null,
    }));
    const [line] = measured({ ...recorded([WALK]), segments: [points] }).segments;
    expect(line?.length).toBeGreaterThan(50);
    expect(line?.length).toBeLessThan(55);
  });

  it('leaves moving and standing time as the clock has them', () => {
    const plain = recorded([WALK, { minutes: 15, speedMs: 0 }, WALK]);
    const sum = (kind: string) =>
      intervalsOf(plain.segments, limits).reduce(
        (min, one) => min + (one.kind === kind ? one.minutes : 0),
        0,
      );
    expect(sum('moving')).toBeGreaterThan(178);
    expect(sum('standing')).toBeGreaterThan(13);
    expect(sum('moving') + sum('standing')).toBeCloseTo(195, 6);
  });
});

describe('measuredAlongM', () => {
  it('rises from 0 to the length of the measured line, whatever was recorded', () => {
    const leg = fc.record({
      minutes: fc.integer({ min: 1, max: 20 }),
      speedMs: fc.constantFrom(0, 0.3, 1.1),
      bearingDeg: fc.integer({ min: 0, max: 359 }),
    });
    fc.assert(
      fc.property(fc.array(leg, { minLength: 1, maxLength: 6 }), (legs) => {
        const track = recorded(legs);
        const alongM = measuredAlongM(track.segments[0] ?? [], limits);
        expect(alongM[0]).toBe(0);
        expect(alongM.every((at, i) => i === 0 || at >= (alongM[i - 1] ?? 0) - 1e-9)).toBe(true);
        expect(alongM.at(-1)).toBeCloseTo(lengthM(measured(track).segments), 6);
        expect(lengthM(measured(track).segments)).toBeLessThanOrEqual(lengthM(track.segments) + 1e-6);
      }),
      { numRuns: 40 },
    );
  });
});
