import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import { conditionOf } from '../../src/capability/least-squares.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { paceDiagnostics } from '../../src/capability/pace-diagnostics.ts';
import { fitPaceModel, predictMoving } from '../../src/capability/pace-model.ts';
import { NO_WALK } from '../../src/capability/quantities.ts';
import { DESIGN } from '../../src/design.ts';

const untaught = fitPaceModel([], DESIGN);

function walked(date: string, km: number, m: number, factor: number): Outing {
  const parts = [
    { ...NO_WALK, upKm: km, upM: m },
    { ...NO_WALK, downKm: km, downM: m },
  ].map((quantities) => ({ quantities, movingMin: factor * predictMoving(untaught, quantities).meanMin }));
  return { ...handOuting({ date, distanceM: 2000 * km, gainM: m }), parts };
}

describe('paceDiagnostics', () => {
  it('says that nothing is known before the first outing', () => {
    const found = paceDiagnostics([], DESIGN);
    expect(found).toMatchObject({
      clockedOutings: 0,
      upOfPrior: 1,
      downOfPrior: 1,
      upPriorSd: 0,
      strongestPull: null,
      condition: null,
      isWellConditioned: false,
    });
    expect(found.sharpenBy.narrowsBy).toBeGreaterThan(0.2);
  });

  it('tells how far the group is from the rule, in its time and in standard deviations of the prior', () => {
    const found = paceDiagnostics(
      [walked('a', 5, 500, 0.5), walked('b', 7, 300, 0.5), walked('c', 3, 700, 0.5)],
      DESIGN,
    );
    expect(found.upOfPrior).toBeCloseTo(0.5, 1);
    // A shared spread of 0.45 and 0.3 of each rate alone: half the time is about one standard deviation away
    expect(found.upPriorSd).toBeCloseTo(-1, 1);
    expect(found.upPriorSd).toBeGreaterThan(-1.3);
  });

  it('names the outing that pulls most', () => {
    const found = paceDiagnostics(
      [walked('2026-06-01', 5, 500, 1), walked('2026-06-08', 6, 500, 1), walked('2026-06-15', 5, 600, 2)],
      DESIGN,
    );
    expect(found.strongestPull?.date).toBe('2026-06-15');
    expect(Math.abs(found.strongestPull?.share ?? 0)).toBeGreaterThan(0.05);
  });

  it('sees whether the outings can tell kilometres from metres', () => {
    const alike = paceDiagnostics([walked('a', 4, 400, 1), walked('b', 6, 600, 1)], DESIGN);
    const different = paceDiagnostics([walked('a', 8, 100, 1), walked('b', 3, 800, 1)], DESIGN);
    expect(alike.isWellConditioned).toBe(false);
    expect(different.isWellConditioned).toBe(true);
  });

  it('promises less from one more day the more is known', () => {
    const few = paceDiagnostics([walked('a', 5, 500, 1)], DESIGN).sharpenBy.narrowsBy;
    const many = paceDiagnostics(
      [1, 2, 3, 4, 5, 6].map((i) => walked(`d${i}`, 3 + i, 200 * i, 1)),
      DESIGN,
    ).sharpenBy.narrowsBy;
    expect(many).toBeLessThan(few);
  });
});

describe('conditionOf', () => {
  it('is 1 for rows at right angles and very large for rows all alike', () => {
    expect(
      conditionOf([
        [1, 0],
        [0, 1],
      ]),
    ).toBeCloseTo(1, 12);
    expect(
      conditionOf([
        [1, 2],
        [2, 4],
      ]),
    ).toBeGreaterThan(1e9);
  });
});
