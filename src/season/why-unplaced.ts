import { capacitiesOf, type Solve, solveStage } from './assign-board.ts';
import { type BoardProblem, LIMIT_GROUPS, type LimitGroup, type Stage } from './board-program.ts';

export interface Binding {
  readonly cohort: number;
  /**
   * The fewest groups of limits that keep it out: without them it and all who are placed have a place, with any fewer of
   * them lifted they do not. Empty: not found out in the time there was.
   */
  readonly groups: readonly LimitGroup[];
  /** Rules of these groups that alone, lifted on every day, would do; empty: it takes several of them. */
  readonly rules: readonly number[];
  /** The option it could then have. */
  readonly option: number | null;
}

/** All subsets of a list, small ones first, without the empty one. */
function subsets<T>(list: readonly T[]): T[][] {
  const all = Array.from({ length: 2 ** list.length - 1 }, (_, bits) =>
    list.filter((_, i) => ((bits + 1) >> i) % 2 === 1),
  );
  return all.sort((a, b) => a.length - b.length);
}

/**
 * Lifts limits one group at a time, then two and more, and solves again: what is named is proven to bind, as without it
 * there is a place and with it there is none (the board had the most cohorts placed that can be).
 *
 * @param placed cohorts that have a place and keep one, though perhaps another
 */
export function whyUnplaced(
  problem: BoardProblem,
  placed: ReadonlySet<number>,
  cohort: number,
  solve: Solve,
): Binding {
  const present = new Set(problem.limits.flatMap(({ rule }) => problem.rules[rule]?.group ?? []));
  const groups = LIMIT_GROUPS.filter((group) => present.has(group));
  const mustGo = new Set([...placed, cohort]);
  const stated = capacitiesOf(problem);
  const options = problem.options.flatMap((option, index) => (mustGo.has(option.cohort) ? [index] : []));

  const without = (lifted: (rule: number) => boolean, maximise: Stage['maximise'] = 'placed') => {
    const capacities = stated.map((capacity, limit) =>
      lifted(problem.limits[limit]?.rule ?? -1) ? Number.POSITIVE_INFINITY : capacity,
    );
    return solveStage(
      problem,
      { among: options, capacities, stage: { maximise, placedAtLeast: 0, mustGo } },
      solve,
    );
  };
  const ownOption = (chosen: readonly number[]) =>
    chosen.find((index) => problem.options[index]?.cohort === cohort) ?? null;

  const none = { cohort, groups: [], rules: [], option: null };
  if (!problem.options.some((option) => option.cohort === cohort)) return none;
  for (const some of subsets(groups)) {
    const isSome = (rule: number) => some.some((group) => group === problem.rules[rule]?.group);
    const solved = without(isSome);
    if (solved.chosen === null) {
      // Not known to be impossible: no smaller set may be called the fewest any more.
      if (!solved.isProven) return none;
      continue;
    }
    const rules =
      some.length > 1
        ? []
        : problem.rules.flatMap((_, rule) =>
            isSome(rule) && without((one) => one === rule).chosen !== null ? [rule] : [],
          );
    const best = without(isSome, { scoreOf: cohort });
    return { cohort, groups: some, rules, option: ownOption(best.chosen ?? solved.chosen) };
  }
  return none;
}
