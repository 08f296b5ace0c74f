import { describe, expect, it } from 'vitest';
import { type Interval, intervalsOf } from '../../../src/capability/recording/intervals.ts';
import { DESIGN } from '../../../src/design.ts';
import { destination } from '../../../src/earth/geodesic.ts';
import type { TrackPoint } from '../../../src/ingest/track.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import { START_MS } from './recorded.ts';

const minutesOf = (intervals: readonly Interval[], kind: Interval['kind']) =>
  intervals.reduce((sum, interval) => sum + (interval.kind === kind ? interval.minutes : 0), 0);
const of = (points: readonly TrackPoint[]) => intervalsOf([points], DESIGN.recording);

/** Points along a line: metres and seconds from the start. */
const along = (steps: readonly (readonly [number, number | null])[]): TrackPoint[] =>
  steps.map(([metres, seconds]) => ({
    ...destination(SOMEWHERE, 90, metres),
    elevationM: null,
    timeMs: seconds === null ? null : START_MS + seconds * 1000,
  }));

describe('intervalsOf', () => {
  it('does not take the jitter of a device at rest for walking', () => {
    // A point a second that hops 1.5 m to and fro: 1.5 m/s from point to point, and no way at all.
    const points = along(Array.from({ length: 601 }, (_, i) => [i % 2 === 0 ? 0 : 1.5, i]));
    expect(minutesOf(of(points), 'standing')).toBeCloseTo(10, 6);
  });

  it('takes a slow climb for walking', () => {
    const points = along(Array.from({ length: 601 }, (_, i) => [i * 0.2, i]));
    expect(minutesOf(of(points), 'moving')).toBeCloseTo(10, 6);
  });

  it.each([
    // After 100 m in 100 s: seconds without a point, metres to the next one, what it counts as
    [150, 120, 'moving'],
    [1800, 30, 'standing'],
    [1800, 150, 'dropOut'],
    [600, 500, 'dropOut'],
    [130, 450, 'dropOut'],
    [4 * 3600, 40, 'longStand'],
  ] as const)('%i s without a point across %i m count as %s', (seconds, metres, kind) => {
    const points = along([
      ...Array.from({ length: 101 }, (_, i) => [i, i] as const),
      [100 + metres, 100 + seconds],
      [105 + metres, 105 + seconds],
    ]);
    const hole = of(points).find(({ minutes }) => minutes > 1);
    expect(hole?.kind).toBe(kind);
    expect(hole?.minutes).toBeCloseTo(seconds / 60, 6);
  });

  it('reaches across points without a time', () => {
    const points = along([
      [0, 0],
      [10, 10],
      [20, null],
      [30, null],
      [40, 40],
    ]);
    expect(of(points).map(({ lengthM }) => Math.round(lengthM))).toEqual([10, 30]);
    expect(minutesOf(of(points), 'moving')).toBeCloseTo(40 / 60, 6);
  });
});
