import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withoutHome } from '../../../src/capability/recording/without-home.ts';
import { DESIGN } from '../../../src/design.ts';
import { destination, geodesicM } from '../../../src/earth/geodesic.ts';
import { checkCohort } from '../../../src/ingest/cohort-file.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import { recorded } from './recorded.ts';

const { homeRadiusM } = DESIGN.recording;
const OUT = { minutes: 60, speedMs: 1.2 };

/** The meeting place as a cohort keeps it. */
const kept = (lat: number, lon: number) => {
  const { home } = checkCohort({ name: 'Lantern Group', participants: 6, home: { lat, lon } });
  if (home == null) throw new RangeError('no meeting place');
  return { latDeg: home.lat, lonDeg: home.lon };
};

describe('withoutHome', () => {
  it('leaves no point at an end within the radius of the true place, wherever it was rounded to', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -75, max: 75, noNaN: true }),
        fc.double({ min: -179, max: 179, noNaN: true }),
        fc.integer({ min: 0, max: 359 }),
        (latDeg, lonDeg, bearingDeg) => {
          const place = { latDeg, lonDeg };
          const { segments } = recorded([{ ...OUT, bearingDeg }], place);
          const { line } = withoutHome(segments, kept(latDeg, lonDeg), homeRadiusM);
          const [first] = line.flat();
          expect(geodesicM(place, first ?? place)).toBeGreaterThan(homeRadiusM);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('cuts no more than the rounding asks for', () => {
    const { line } = withoutHome(recorded([OUT]).segments, SOMEWHERE, homeRadiusM);
    const [first] = line.flat();
    // 0.005 degrees at 46.1 N: 556 m north and 387 m east, 677 m together (WGS 84)
    expect(geodesicM(SOMEWHERE, first ?? SOMEWHERE)).toBeLessThan(homeRadiusM + 677 + 13);
  });

  it('has one answer for a walk that never gets out of the circle, and names no place in it', () => {
    const near = recorded([{ minutes: 12, speedMs: 1.2 }]).segments;
    expect(() => withoutHome(near, SOMEWHERE, homeRadiusM)).toThrow('enter this outing by hand');
    const far = recorded([{ minutes: 12, speedMs: 1.2 }], destination(SOMEWHERE, 0, 1250)).segments;
    expect(withoutHome(far, SOMEWHERE, homeRadiusM)).toEqual({ line: far, notes: [] });
  });
});
