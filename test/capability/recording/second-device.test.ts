import { describe, expect, it } from 'vitest';
import { withoutSecondDevice } from '../../../src/capability/recording/second-device.ts';
import { destination } from '../../../src/earth/geodesic.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import { recorded, START_MS, WALK } from './recorded.ts';

const one = recorded([WALK]).segments[0] ?? [];
const later = (minutes: number) =>
  recorded([WALK], destination(SOMEWHERE, 0, 9), START_MS + minutes * 60_000).segments[0] ?? [];

describe('withoutSecondDevice', () => {
  it('leaves one of two segments that were recorded at the same time, the longer', () => {
    const shorter = later(2).slice(30, 400);
    for (const line of [
      [one, shorter],
      [shorter, one],
    ]) {
      const { line: kept, notes } = withoutSecondDevice(line);
      expect(kept).toEqual([one]);
      expect(notes.map(({ code }) => code)).toEqual(['second-recording']);
    }
  });

  it('leaves segments that follow each other, also where one clock jumps', () => {
    const jumps = later(89).map((point, i) => (i === 0 ? { ...point, timeMs: 0 } : point));
    for (const line of [[one, later(89)], [one, jumps], [one]]) {
      expect(withoutSecondDevice(line)).toEqual({ line, notes: [] });
    }
  });

  it('knows nothing of segments without times', () => {
    const untimed = one.map((point) => ({ ...point, timeMs: null }));
    expect(withoutSecondDevice([one, untimed]).line).toHaveLength(2);
  });
});
