import { describe, expect, it } from 'vitest';
import { clockedOuting } from '../../src/capability/clocked-outing.ts';
import { DESIGN } from '../../src/design.ts';
import { describeRoute } from '../../src/route/describe-route.ts';
import { elevated, thereAndBack, upAndDown } from '../support/elevated.ts';

const hill = upAndDown(3000, 1200, 500);
const bearingsDeg = thereAndBack(hill);
const START = Date.UTC(2026, 5, 20, 8);
const record = { date: '2026-06-20', rockClass: '1', members: null };

/** 20 m every 24 s going up, every 20 s coming down, and a rest of 30 min at the top. */
const clockOf = (): number[] => {
  const half = (hill.length - 1) / 2;
  let ms = START;
  return hill.map((_, i) => {
    if (i > 0) ms += i <= half ? 24_000 : 20_000;
    if (i === half + 1) ms += 30 * 60_000;
    return ms;
  });
};

function outing(heightsM: readonly (number | null)[], timeMs: readonly (number | null)[]) {
  const drawn = elevated({ heightsM, bearingsDeg, timeMs });
  const route = describeRoute(drawn, DESIGN, { addWayBack: false, attributes: { treelineM: 3000 } });
  return clockedOuting(drawn.track, route, record, DESIGN);
}

describe('clockedOuting', () => {
  it('times the climb and the descent apart and leaves the rest out', () => {
    const walked = outing(hill, clockOf());
    // 150 steps up of 24 s are 60 min, 150 down of 20 s are 50 min; the step with the rest counts as standing
    expect(walked.parts[0]?.movingMin).toBeCloseTo(60, 6);
    expect(walked.parts[1]?.movingMin).toBeGreaterThan(49);
    expect(walked.parts[1]?.movingMin).toBeLessThanOrEqual(50);
    expect(walked.standingMin).toBeGreaterThanOrEqual(30);
    expect(walked.parts[0]?.quantities.upM).toBeCloseTo(500, 6);
    expect(walked.climbElevationM).toBeCloseTo(1450, -1);
  });

  it('counts for distance and gain where it has no clock', () => {
    const walked = outing(
      hill,
      hill.map(() => null),
    );
    expect(walked).toMatchObject({ movingMin: null, standingMin: null, parts: [], distanceM: 6000 });
    expect(walked.gainM).toBeCloseTo(500, 6);
    expect(walked.notes.map((note) => note.code)).toContain('no-clock');
  });

  it('learns no pace from a climb that is timed only in part', () => {
    const times = clockOf().map((ms, i) => (i > 40 && i < 110 ? null : ms));
    const walked = outing(hill, times);
    expect(walked.parts.map((part) => part.quantities.upM > 0)).toEqual([false]);
    expect(walked.notes.map((note) => note.code)).toContain('clock-incomplete');
  });

  it('counts for distance only where heights are missing, and never as a climb of 0', () => {
    const walked = outing(
      hill.map(() => null),
      clockOf(),
    );
    expect(walked).toMatchObject({
      gainM: null,
      gainHighM: null,
      quantities: null,
      parts: [],
      distanceM: 6000,
    });
    expect(walked.notes.map((note) => note.code)).toContain('heights-missing');
  });
});
