import { describe, expect, it } from 'vitest';
import { type Line, lengthM } from '../../../src/capability/recording/line.ts';
import { ofOneDate } from '../../../src/capability/recording/one-date.ts';
import { DESIGN } from '../../../src/design.ts';
import { destination } from '../../../src/earth/geodesic.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import { recorded, START_MS, WALK } from './recorded.ts';

const H = 3_600_000;
const SHORT = { minutes: 60, speedMs: 1 };
/** The invented range keeps UTC-2: START_MS is six in the morning of 20 June there. */
const of = (line: Line, date: string) => {
  const { line: day, notes } = ofOneDate(line, date, DESIGN.recording);
  return { km: Math.round(lengthM(day) / 10) / 100, codes: notes.map(({ code }) => code) };
};
const WALK_KM = Math.round(90 * 60 * 1.1) / 1000;

describe('ofOneDate', () => {
  it('leaves a day with a long stop, and a walk into the night, as they are', () => {
    const stop = recorded([WALK, { minutes: 300, speedMs: 0 }, WALK]).segments;
    expect(ofOneDate(stop, '2026-06-20', DESIGN.recording)).toEqual({ line: stop, notes: [] });
    const late = recorded([WALK, WALK, WALK], SOMEWHERE, START_MS + 17 * H).segments;
    expect(ofOneDate(late, '2026-06-20', DESIGN.recording)).toEqual({ line: late, notes: [] });
  });

  it('takes the stated one of two days with a device left on overnight between them', () => {
    const nights = recorded([WALK, { minutes: 22 * 60, speedMs: 0 }, SHORT]).segments;
    expect(of(nights, '2026-06-20')).toEqual({ km: expect.closeTo(WALK_KM, 1), codes: ['other-day-cut'] });
    expect(of(nights, '2026-06-21')).toEqual({ km: expect.closeTo(3.6, 1), codes: ['other-day-cut'] });
    expect(of(nights, '2026-07-01')).toEqual({ km: expect.closeTo(WALK_KM, 1), codes: ['other-day-cut'] });
  });

  it('takes the stated one of two days with nothing recorded between them', () => {
    const first = recorded([WALK]).segments;
    const second = recorded([SHORT], destination(SOMEWHERE, 0, 4000), START_MS + 26 * H).segments;
    expect(of([...first, ...second], '2026-06-21').km).toBeCloseTo(3.6, 1);
    expect(of([[...first.flat(), ...second.flat()]], '2026-06-20').km).toBeCloseTo(WALK_KM, 1);
  });
});
