import { at } from '../array.ts';
import type { BoardOption, BoardProblem, Use } from './board-program.ts';

/** Limits that cannot be reached even if every cohort takes the most that any way of placing it takes. */
function neverReached(problem: BoardProblem, usable: readonly number[], capacities: readonly number[]) {
  const most = problem.limits.map(() => new Map<number, number>());
  for (const index of usable) {
    const { cohort, uses } = at(problem.options, index);
    for (const { limit, amount } of uses) {
      const byCohort = at(most, limit);
      byCohort.set(cohort, Math.max(amount, byCohort.get(cohort) ?? 0));
    }
  }
  return most.map((byCohort, limit) => {
    const total = [...byCohort.values()].reduce((sum, amount) => sum + amount, 0);
    return total <= at(capacities, limit);
  });
}

/** Whether `a` takes nothing that `b` does not take too; both in order of their limits. */
function takesNoMore(a: readonly Use[], b: readonly Use[]): boolean {
  let j = 0;
  for (const { limit, amount } of a) {
    while (j < b.length && (b[j]?.limit ?? 0) < limit) j += 1;
    const other = b[j];
    if (other === undefined || other.limit !== limit || other.amount < amount) return false;
  }
  return true;
}

/**
 * Of some options those that a best board can need: the ones that no limit forbids alone, less each that another of its
 * cohort can stand in for, as it takes no more of any limit that can be reached. Where scores count, it must score as
 * much besides. Exchanging one for the other keeps every limit, the number placed and, where they count, the scores, so
 * nothing is lost.
 *
 * @param among places in `problem.options`
 * @param scoreCounts whether what this cohort scores matters to what is asked
 * @returns places in `problem.options`, in their order
 */
export function neededOptions(
  problem: BoardProblem,
  among: readonly number[],
  capacities: readonly number[],
  scoreCounts: (cohort: number) => boolean,
): number[] {
  const usable = among.filter((index) =>
    at(problem.options, index).uses.every(({ limit, amount }) => amount <= at(capacities, limit)),
  );
  const free = neverReached(problem, usable, capacities);
  const byCohort = new Map<number, { index: number; option: BoardOption; uses: Use[] }[]>();
  for (const index of usable) {
    const option = at(problem.options, index);
    const uses = option.uses.filter(({ limit }) => free[limit] !== true).sort((a, b) => a.limit - b.limit);
    const others = byCohort.get(option.cohort) ?? [];
    others.push({ index, option, uses });
    byCohort.set(option.cohort, others);
  }
  const needed: number[] = [];
  for (const [cohort, own] of byCohort) {
    const counts = scoreCounts(cohort);
    // Whoever can stand in for another comes before it.
    own.sort(
      (a, b) =>
        (counts ? b.option.score - a.option.score : 0) ||
        a.uses.length - b.uses.length ||
        amountOf(a.uses) - amountOf(b.uses) ||
        b.option.score - a.option.score ||
        a.index - b.index,
    );
    const kept: typeof own = [];
    for (const one of own) {
      if (!kept.some((better) => takesNoMore(better.uses, one.uses))) kept.push(one);
    }
    needed.push(...kept.map(({ index }) => index));
  }
  return needed.sort((a, b) => a - b);
}

const amountOf = (uses: readonly Use[]): number => uses.reduce((sum, { amount }) => sum + amount, 0);
