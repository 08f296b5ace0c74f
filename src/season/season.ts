import type { Vehicle } from '../approach/vehicles.ts';
import type { CriterionName } from '../rank/criteria/index.ts';
import type { Fit } from '../rank/fit.ts';
import type { CohortRecord } from '../rank/readiness.ts';
import type { Verdict } from '../rank/verdict.ts';
import type { Route } from '../route/describe-route.ts';
import type { Assignment } from './assign-board.ts';
import type { BoardRule, LimitGroup } from './board-program.ts';

export interface PoolVehicle extends Vehicle {
  readonly name: string;
}

/** A cohort that wants a day of the season. */
export interface SeasonCohort {
  /** Its vehicles are the program’s, unless it comes in its own. */
  readonly record: CohortRecord;
  /** Where it is kept in the store; `null`: it comes from a file. */
  readonly id: string | null;
  readonly notOn: ReadonlySet<string>;
  /** Labels of leaders who are with one cohort a day at most; empty: none stated. */
  readonly ledBy: readonly string[];
  readonly hasOwnVehicles: boolean;
}

interface SeasonRoute {
  readonly route: Route;
  readonly id: string | null;
}

/** What the season allows at a trailhead, or for the office that gives a permit: one of the two is named. */
interface StatedLimit {
  readonly trailhead: string | null;
  readonly who: string | null;
  readonly partiesPerDay: number | null;
  readonly parkingSpaces: number | null;
}

/** Everything that the board is made from. */
export interface SeasonQuestion {
  readonly name: string | null;
  /** In order. */
  readonly dates: readonly string[];
  readonly cohorts: readonly SeasonCohort[];
  readonly routes: readonly SeasonRoute[];
  /** `null`: nothing is shared, every cohort rides in its own vehicles. */
  readonly vehicles: readonly PoolVehicle[] | null;
  readonly limits: readonly StatedLimit[];
}

/** How a route fits a cohort on a date, in short; the three are places in the question’s lists. */
export interface Pairing {
  readonly cohort: number;
  readonly date: number;
  readonly route: number;
  readonly verdict: Verdict;
  readonly score: number;
  /** The criteria that carry the verdict. */
  readonly ruling: readonly CriterionName[];
}

/** Only these may be placed: nobody is sent where the group is not known to be up to it. */
export const isPlaceable = ({ verdict }: Pick<Pairing, 'verdict'>): boolean =>
  verdict === 'fits' || verdict === 'stretch';

/** Participants and leaders; one leader where their number is not stated, as in the ranking. */
export const partyOf = ({ record: { cohort } }: SeasonCohort): number =>
  cohort.participants + (cohort.leaders ?? 1);

export interface PlacedParty {
  readonly pairing: Pairing;
  readonly cohort: SeasonCohort;
  readonly route: SeasonRoute;
  readonly date: string;
  /** Judged in the vehicles that it gets; the score is that of the pairing. */
  readonly fit: Fit;
  /** `null`: its own. */
  readonly vehicles: readonly PoolVehicle[] | null;
  /** The best that it could have, were it alone in the season. */
  readonly best: Pairing;
}

export interface UnplacedCohort {
  readonly cohort: SeasonCohort;
  /** Whether a route fits on some date, were the cohort alone and free to go. */
  readonly fits: boolean;
  /** Where something fits: the fewest groups of limits that keep it out (`whyUnplaced`), and single rules that do. */
  readonly groups: readonly LimitGroup[];
  readonly rules: readonly BoardRule[];
  /** Where it could go without these. */
  readonly couldGo: Pairing | null;
  /** Where nothing fits: what comes nearest, and the criteria with the number of routes that each keeps from fitting. */
  readonly nearest: { readonly route: SeasonRoute; readonly date: string; readonly fit: Fit } | null;
  readonly ruling: readonly { readonly name: CriterionName; readonly routes: number }[];
}

export interface SeasonBoard {
  readonly question: SeasonQuestion;
  readonly assignment: Assignment;
  readonly placed: readonly PlacedParty[];
  readonly unplaced: readonly UnplacedCohort[];
}
