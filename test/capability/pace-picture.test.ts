import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { fitPaceModel, predictMoving } from '../../src/capability/pace-model.ts';
import { pacePicture } from '../../src/capability/pace-picture.ts';
import { NO_WALK } from '../../src/capability/quantities.ts';
import { DESIGN } from '../../src/design.ts';

const untaught = fitPaceModel([], DESIGN);
const always = () => 1;

function walked(date: string, km: number, m: number, factor: number): Outing {
  const parts = [
    { ...NO_WALK, upKm: km, upM: m },
    { ...NO_WALK, downKm: km, downM: m },
  ].map((quantities) => ({ quantities, movingMin: factor * predictMoving(untaught, quantities).meanMin }));
  return { ...handOuting({ date, distanceM: 2000 * km, gainM: m }), parts };
}

describe('the picture of a pace', () => {
  it('before any outing shows the rule alone, twice', () => {
    const { walks, days } = pacePicture([], DESIGN, always);
    expect(days).toEqual([]);
    for (const { ruleMin, before, after } of walks) {
      expect(before.p50).toBeCloseTo(ruleMin, 6);
      expect(after).toEqual(before);
    }
  });

  it('moves to the outings and narrows, and holds every outing that counts at its own time', () => {
    const outings = [walked('2026-06-20', 5, 500, 0.7), walked('2026-06-06', 7, 300, 0.7)];
    const { walks, days } = pacePicture(outings, DESIGN, always);
    const last = walks.at(-1);
    expect(days.map(({ date }) => date)).toEqual(['2026-06-06', '2026-06-20']);
    for (const { ruleMin, movingMin } of days) expect(movingMin / ruleMin).toBeCloseTo(0.7, 6);
    expect(last?.ruleMin).toBeGreaterThanOrEqual(Math.max(...days.map(({ ruleMin }) => ruleMin)));
    const width = (band = { p10: 0, p90: 0 }) => band.p90 - band.p10;
    expect(width(last?.after)).toBeLessThan(0.6 * width(last?.before));
    expect((last?.after.p50 ?? 0) / (last?.ruleMin ?? 1)).toBeCloseTo(0.7, 1);
  });

  it('leaves out days without a clock and days that no longer count', () => {
    const byHand = handOuting({ date: '2026-06-20', distanceM: 9000, gainM: 600 });
    const old = walked('2025-06-20', 5, 500, 0.7);
    expect(pacePicture([byHand, old], DESIGN, ({ date }) => (date === old.date ? 0 : 1)).days).toEqual([]);
  });
});
