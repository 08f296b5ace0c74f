import { streamOf } from '../../src/sampling/random.ts';
import type { BoardOption, BoardProblem, BoardRule, LimitGroup } from '../../src/season/board-program.ts';

const RULES: Record<LimitGroup, BoardRule> = {
  vehicles: { group: 'vehicles', vehicles: 2, seats: 8, clearance: 'any' },
  permits: { group: 'permits', by: 'office', name: 'Range office', partiesPerDay: 2 },
  parking: { group: 'parking', trailhead: 'Peat Sled Yard', spaces: 2 },
  leaders: { group: 'leaders', label: 'l1' },
  dates: { group: 'dates', cohort: 'Cranny Juniors' },
};

/** A small board drawn from a seed: few enough options for every assignment to be looked at. */
export function drawnBoard(seed: number): BoardProblem {
  const { uniform } = streamOf(seed, 'small boards');
  const upTo = (most: number) => Math.floor(uniform() * (most + 1));
  const cohorts = 2 + upTo(3);
  const groups: LimitGroup[] = ['vehicles', 'permits', 'parking', 'leaders', 'dates'];
  const rules = groups.slice(0, 1 + upTo(4)).map((group) => RULES[group]);
  const limits = rules.flatMap((_, rule) =>
    Array.from({ length: 1 + upTo(2) }, () => ({ rule, capacity: upTo(3) })),
  );
  const options: BoardOption[] = Array.from({ length: cohorts }, (_, cohort) =>
    Array.from({ length: upTo(5) }, () => ({
      cohort,
      // Few different scores: ties are where an order of stages shows.
      score: (1 + upTo(9)) / 10 + (uniform() < 0.5 ? 0 : upTo(100) / 1e4),
      uses: limits.flatMap((_, limit) => (uniform() < 0.4 ? [{ limit, amount: 1 + upTo(1) }] : [])),
    })),
  ).flat();
  return { cohorts, rules, limits, options };
}
