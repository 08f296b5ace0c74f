import type { DayWishes } from '../day/walk-day.ts';
import type { CohortRecord } from './rank-routes.ts';

/** What a cohort wishes of its day. */
export const wishesOf = ({ cohort, start = null }: CohortRecord): DayWishes => ({
  earliestStart: cohort.earliestStart ?? null,
  deadline: cohort.deadline ?? null,
  headlamps: cohort.headlamps ?? null,
  start,
});
