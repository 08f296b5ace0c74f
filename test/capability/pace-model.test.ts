import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import {
  fitPaceModel,
  noFasterThanPrior,
  type PaceModel,
  predictMoving,
  probabilityWithin,
  quantileMin,
} from '../../src/capability/pace-model.ts';
import type { Quantities } from '../../src/capability/quantities.ts';
import { din33466Min, tradeRuleMin } from '../../src/capability/rules/trade-rule.ts';
import { DESIGN } from '../../src/design.ts';

const untaught = fitPaceModel([], DESIGN);
const up = (km: number, m: number): Quantities => ({ upKm: km, upM: m, downKm: 0, downM: 0 });
const down = (km: number, m: number): Quantities => ({ upKm: 0, upM: 0, downKm: km, downM: m });
const both = (km: number, m: number): Quantities => ({ upKm: km, upM: m, downKm: km, downM: m });
const meanOf = (model: PaceModel, walk: Quantities): number => predictMoving(model, walk).meanMin;

function clocked(parts: readonly { quantities: Quantities; movingMin: number }[]): Outing {
  return { ...handOuting({ date: '2026-06-01', distanceM: 8000, gainM: 500 }), parts };
}

const outing = fc.record({
  km: fc.double({ min: 2, max: 10, noNaN: true }),
  m: fc.double({ min: 50, max: 1200, noNaN: true }),
  upFactor: fc.double({ min: 0.5, max: 2, noNaN: true }),
  downFactor: fc.double({ min: 0.5, max: 2, noNaN: true }),
});

describe('fitPaceModel', () => {
  it('starts from the trade rule going up', () => {
    // Common practice, no source: 30 min a mile and 1 h per 1,000 ft
    expect(meanOf(untaught, up(5, 800))).toBeCloseTo(tradeRuleMin(5000, 800), 9);
    expect(meanOf(untaught, up(1.609344, 304.8))).toBeCloseTo(90, 9);
  });

  it('starts from the slower of the trade rule and DIN 33466 going down', () => {
    // sources.md §15: 4 km with 1,000 m of drop is 75 min by the trade rule and 150 min by DIN 33466
    expect(meanOf(untaught, down(4, 1000))).toBeCloseTo(150, 9);
    for (const slope of [0, 0.05, 0.1, 0.15, 0.2, 0.25]) {
      const slower = Math.max(
        tradeRuleMin(4000, 0),
        din33466Min({ horizontalM: 4000, climbM: 0, dropM: 4000 * slope }),
      );
      expect(meanOf(untaught, down(4, 4000 * slope))).toBeGreaterThanOrEqual(slower - 1e-9);
    }
  });

  it('never shortens the way down because the way up was fast', () => {
    fc.assert(
      fc.property(outing, ({ km, m, upFactor }) => {
        const fast = clocked([
          { quantities: up(km, m), movingMin: tradeRuleMin(km * 1000, m) * Math.min(upFactor, 1) },
        ]);
        expect(meanOf(fitPaceModel([fast], DESIGN), down(6, 900))).toBeGreaterThanOrEqual(
          meanOf(untaught, down(6, 900)) - 1e-6,
        );
      }),
    );
  });

  it('comes close to what the group does after a few outings', () => {
    const half = [600, 800, 500, 900].map((m, i) =>
      clocked([
        { quantities: up(4 + i, m), movingMin: 0.5 * meanOf(untaught, up(4 + i, m)) },
        { quantities: down(4 + i, m), movingMin: 0.7 * meanOf(untaught, down(4 + i, m)) },
      ]),
    );
    const model = fitPaceModel(half, DESIGN);
    expect(meanOf(model, up(7, 1000)) / meanOf(untaught, up(7, 1000))).toBeCloseTo(0.5, 1);
    expect(meanOf(model, down(7, 1000)) / meanOf(untaught, down(7, 1000))).toBeCloseTo(0.7, 1);
    const width = (which: PaceModel) => {
      const estimate = predictMoving(which, both(7, 1000));
      return (quantileMin(estimate, 0.9) - quantileMin(estimate, 0.1)) / estimate.meanMin;
    };
    expect(width(model)).toBeLessThan(0.6 * width(untaught));
  });

  it('never predicts less time for a longer or higher route', () => {
    fc.assert(
      fc.property(
        fc.array(outing, { maxLength: 5 }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 500, noNaN: true }),
        (walked, moreKm, moreM) => {
          const model = fitPaceModel(
            walked.map(({ km, m, upFactor, downFactor }) =>
              clocked([
                { quantities: up(km, m), movingMin: upFactor * meanOf(untaught, up(km, m)) },
                { quantities: down(km, m), movingMin: downFactor * meanOf(untaught, down(km, m)) },
              ]),
            ),
            DESIGN,
          );
          expect(meanOf(model, both(6 + moreKm, 800 + moreM))).toBeGreaterThanOrEqual(
            meanOf(model, both(6, 800)),
          );
        },
      ),
    );
  });

  it('survives a day without length or height', () => {
    const nothing = clocked([{ quantities: both(0, 0), movingMin: 60 }]);
    expect(fitPaceModel([nothing], DESIGN).posterior).toEqual(untaught.posterior);
  });

  it('learns from the latest days at most, however many there are', () => {
    const many = Array.from({ length: 300 }, (_, i) =>
      clocked([{ quantities: up(5, 300 + i), movingMin: 200 + i / 10 }]),
    );
    expect(fitPaceModel(many, DESIGN).outings).toBe(DESIGN.pace.mostOutings);
  });

  it('does not believe a day walked faster than people walk, and says so', () => {
    const day = handOuting({ date: '2026-06-01', distanceM: 12700, gainM: 1000, movingMin: 1 });
    expect(day.parts).toEqual([]);
    expect(day.notes.map((note) => note.code)).toEqual(['time-implausible']);
    expect(handOuting({ date: '2026-06-01', distanceM: 12700, gainM: 1000, movingMin: 0 }).parts).toEqual([]);
  });

  it('learns less from an outing that counts for less', () => {
    const fast = clocked([{ quantities: up(5, 600), movingMin: 0.5 * meanOf(untaught, up(5, 600)) }]);
    const full = meanOf(fitPaceModel([fast], DESIGN), up(5, 600));
    const faded = meanOf(
      fitPaceModel([fast], DESIGN, () => 0.05),
      up(5, 600),
    );
    expect(faded).toBeGreaterThan(full);
    expect(fitPaceModel([fast], DESIGN, () => 0).posterior).toEqual(untaught.posterior);
  });

  it('counts a climb of unknown height as one at sea level', () => {
    const high = { ...clocked([{ quantities: up(1, 50), movingMin: 40 }]), climbElevationM: 3500 };
    const unknown = { ...clocked([{ quantities: up(8, 950), movingMin: 300 }]), climbElevationM: null };
    expect(fitPaceModel([high, unknown], DESIGN).trainingElevationM).toBeLessThan(1800);
  });

  it('never has a smaller late time for a longer walk, even where outings are known only as a whole', () => {
    fc.assert(
      fc.property(
        fc.array(outing, { minLength: 1, maxLength: 6 }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 500, noNaN: true }),
        (walked, moreKm, moreM) => {
          const model = fitPaceModel(
            walked.map(({ km, m, upFactor }) =>
              clocked([{ quantities: both(km, m), movingMin: upFactor * meanOf(untaught, both(km, m)) }]),
            ),
            DESIGN,
          );
          const late = (walk: Quantities) => quantileMin(predictMoving(model, walk), 0.9);
          const base = both(6, 800);
          expect(late({ ...base, downKm: 6 + moreKm, downM: 800 + moreM })).toBeGreaterThanOrEqual(
            late(base) - 1e-9,
          );
          expect(late({ ...base, upKm: 6 + moreKm, upM: 800 + moreM })).toBeGreaterThanOrEqual(
            late(base) - 1e-9,
          );
        },
      ),
    );
  });

  it('counts an outing without a clock for nothing', () => {
    const noClock = handOuting({ date: '2026-06-01', distanceM: 9000, gainM: 600 });
    expect(fitPaceModel([noClock], DESIGN).posterior).toEqual(untaught.posterior);
  });

  it('learns the standing time by the hour and starts from fifteen minutes', () => {
    expect(untaught.stopsMinPerHour).toBe(15);
    const rests = handOuting({
      date: '2026-06-01',
      distanceM: 9000,
      gainM: 600,
      movingMin: 240,
      standingMin: 80,
    });
    // Fifteen minutes an hour over 6 hours' worth of prior, 80 min over 4 h: (90 + 80) / 10
    const taught = fitPaceModel([rests], DESIGN);
    expect(taught.stopsMinPerHour).toBeCloseTo(17, 9);
    // A day differs from the mean, and the mean is in doubt: less so after 4 of 10 hours.
    expect(untaught.stopsSpreadMinPerHour).toBeCloseTo(10 * Math.SQRT2, 9);
    expect(taught.stopsSpreadMinPerHour).toBeCloseTo(10 * Math.sqrt(1.6), 9);
  });

  it('counts a standing time of 0 as known', () => {
    const brisk = handOuting({
      date: '2026-06-01',
      distanceM: 9000,
      gainM: 600,
      movingMin: 240,
      standingMin: 0,
    });
    expect(fitPaceModel([brisk], DESIGN).stopsMinPerHour).toBeCloseTo(9, 9);
  });
});

describe('ground steeper than any that was walked', () => {
  const gentle = fitPaceModel([clocked([{ quantities: up(5, 400), movingMin: 150 }])], DESIGN);
  const ownMin = (walk: Quantities): number =>
    walk.upKm * (gentle.posterior.mean[0] ?? 0) + walk.upM * (gentle.posterior.mean[1] ?? 0);

  it('takes longer than the group’s own rates say, and is less sure', () => {
    const { meanMin, scaleMin } = predictMoving(gentle, up(4, 800));
    // 320 of the 800 m are what 8 % would give; the other 480 take 30 % longer.
    expect(meanMin).toBeCloseTo(ownMin(up(4, 800)) + 0.3 * 480 * (gentle.posterior.mean[1] ?? 0), 6);
    const steep = fitPaceModel([clocked([{ quantities: up(2, 400), movingMin: 114 }])], DESIGN);
    expect(scaleMin / meanMin).toBeGreaterThan(
      predictMoving(steep, up(4, 800)).scaleMin / predictMoving(steep, up(4, 800)).meanMin,
    );
  });

  it('does not count on ground as steep as the training, nor before anything was walked', () => {
    expect(meanOf(gentle, up(10, 800))).toBeCloseTo(ownMin(up(10, 800)), 6);
    expect(meanOf(untaught, up(2, 800))).toBeCloseTo(
      2 * (untaught.prior.mean[0] ?? 0) + 800 * (untaught.prior.mean[1] ?? 0),
      6,
    );
  });

  it('never makes a longer or higher way quicker, at any percentile that a plan uses', () => {
    const some = fc.double({ min: 0, max: 8, noNaN: true });
    fc.assert(
      fc.property(outing, some, some, some, fc.constantFrom(0.1, 0.5, 0.9, 0.95), (of, km, more, hm, p) => {
        const model = fitPaceModel(
          [
            clocked([
              { quantities: up(of.km, of.m), movingMin: of.upFactor * meanOf(untaught, up(of.km, of.m)) },
            ]),
          ],
          DESIGN,
        );
        const at = (walk: Quantities) => quantileMin(predictMoving(model, walk), p);
        expect(at(up(km + more, 100 * hm))).toBeGreaterThanOrEqual(at(up(km, 100 * hm)) - 1e-6);
        expect(at(up(km, 100 * (hm + more)))).toBeGreaterThanOrEqual(at(up(km, 100 * hm)) - 1e-6);
      }),
      { numRuns: 500 },
    );
  });
});

describe('noFasterThanPrior', () => {
  it('takes the slower rate of the group and the trade rule, with the trade rule’s doubt', () => {
    const fast = clocked([{ quantities: up(5, 600), movingMin: 0.4 * meanOf(untaught, up(5, 600)) }]);
    const slow = clocked([{ quantities: up(5, 600), movingMin: 2 * meanOf(untaught, up(5, 600)) }]);
    const walk = up(6, 800);
    expect(meanOf(noFasterThanPrior(fitPaceModel([fast], DESIGN)), walk)).toBeCloseTo(
      meanOf(untaught, walk),
      9,
    );
    const slowModel = fitPaceModel([slow], DESIGN);
    expect(meanOf(noFasterThanPrior(slowModel), walk)).toBeCloseTo(meanOf(slowModel, walk), 9);
  });
});

describe('a time estimate', () => {
  const estimate = predictMoving(untaught, both(6, 800));

  it('gives back the probability of its own quantiles', () => {
    for (const p of [0.1, 0.5, 0.8, 0.9, 0.95]) {
      expect(probabilityWithin(estimate, quantileMin(estimate, p))).toBeCloseTo(p, 6);
    }
  });

  it('orders its quantiles and never goes below a physical least', () => {
    expect(quantileMin(estimate, 0.1)).toBeLessThan(quantileMin(estimate, 0.5));
    expect(quantileMin(estimate, 0.5)).toBeLessThan(quantileMin(estimate, 0.9));
    expect(quantileMin(estimate, 1e-9)).toBeGreaterThan(0);
  });

  it('is certain about standing still', () => {
    const nothing = predictMoving(untaught, both(0, 0));
    expect(quantileMin(nothing, 0.9)).toBe(0);
    expect(probabilityWithin(nothing, 0)).toBe(1);
  });
});
