import { LRUCache } from 'lru-cache';
import { probabilityWithin } from './pace-model.ts';

/** Within so many scales of the middle the distribution is tabled, in so many steps each (design). */
const REACH = 8;
const STEPS_EACH = 200;
const LAST = 2 * REACH * STEPS_EACH;

/** Tables kept: the degrees of freedom grow with a group's outings, one by one. */
const tables = new LRUCache<number, Float64Array>({ max: 32 });

function tableOf(degreesOfFreedom: number): Float64Array {
  const known = tables.get(degreesOfFreedom);
  if (known !== undefined) return known;
  const standard = { meanMin: 0, scaleMin: 1, degreesOfFreedom };
  const table = Float64Array.from({ length: LAST + 1 }, (_, i) =>
    probabilityWithin(standard, i / STEPS_EACH - REACH),
  );
  tables.set(degreesOfFreedom, table);
  return table;
}

/**
 * The Student-t distribution for those who ask it often: cubic between the points of a table (Lagrange, four points),
 * off by less than 1e-10 (tested); beyond the table the distribution itself.
 *
 * @returns the probability of at most so many scales above the middle
 */
export function chanceOf(degreesOfFreedom: number): (deviate: number) => number {
  const standard = { meanMin: 0, scaleMin: 1, degreesOfFreedom };
  const table = tableOf(degreesOfFreedom);
  return (deviate) => {
    const at = (deviate + REACH) * STEPS_EACH;
    if (!(at >= 1 && at < LAST - 1)) return probabilityWithin(standard, deviate);
    const i = Math.floor(at);
    const x = at - i;
    const before = table[i - 1] ?? 0;
    const low = table[i] ?? 0;
    const high = table[i + 1] ?? 0;
    const after = table[i + 2] ?? 0;
    return (
      (-before * x * (x - 1) * (x - 2)) / 6 +
      (low * (x + 1) * (x - 1) * (x - 2)) / 2 -
      (high * (x + 1) * x * (x - 2)) / 2 +
      (after * (x + 1) * x * (x - 1)) / 6
    );
  };
}
