import { describe, expect, it } from 'vitest';
import { lengthM } from '../../../src/capability/recording/line.ts';
import { withoutStrays } from '../../../src/capability/recording/strays.ts';
import { DESIGN } from '../../../src/design.ts';
import { destination } from '../../../src/earth/geodesic.ts';
import type { TrackPoint } from '../../../src/ingest/track.ts';
import { DRIVE, recorded, WALK } from './recorded.ts';

const points = recorded([WALK]).segments[0] ?? [];
const moved = (from: number, to: number, metres: number): TrackPoint[] =>
  points.map((point, i) => (i >= from && i <= to ? { ...point, ...destination(point, 0, metres) } : point));
const kept = (line: readonly TrackPoint[]) => withoutStrays([line], DESIGN.recording);

describe('withoutStrays', () => {
  it('leaves out one bad fix or several, and counts them', () => {
    for (const [from, to] of [
      [200, 200],
      [200, 205],
    ] as const) {
      const { line, notes } = kept(moved(from, to, 400));
      expect(line.flat()).toHaveLength(points.length - (to - from + 1));
      expect(lengthM(line)).toBeCloseTo(lengthM([points]), 3);
      expect(notes).toMatchObject([{ code: 'stray-points', values: { count: to - from + 1 } }]);
    }
  });

  it('leaves alone what wanders less than a stand does, and what stays away', () => {
    for (const line of [moved(200, 200, 30), moved(200, 540, 400), moved(200, 260, 400)]) {
      expect(kept(line)).toEqual({ line: [line], notes: [] });
    }
  });

  it('leaves a drive with its bends to those who cut drives', () => {
    const [back, side] = [270, 0].map((bearingDeg) => ({ minutes: 1, speedMs: 9, bearingDeg }));
    const { segments } = recorded([WALK, DRIVE, side ?? DRIVE, back ?? DRIVE, side ?? DRIVE, WALK]);
    expect(withoutStrays(segments, DESIGN.recording).notes).toEqual([]);
  });
});
