import type { Approach } from '../approach/approach.ts';
import type { Demonstrated } from '../capability/demonstrated.ts';
import type { Timeline } from '../day/walk-day.ts';
import type { AgeBand, Design } from '../design.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Route } from '../route/describe-route.ts';
import type { UnitSystem } from '../units.ts';
import type { Verdict } from './verdict.ts';

export const CRITERION_NAMES = [
  'distance',
  'gain',
  'effort',
  'rockClass',
  'altitude',
  'stormWindow',
  'daylight',
  'drive',
  'roadAccess',
  'partySize',
  'season',
  'aim',
] as const;

export type CriterionName = (typeof CRITERION_NAMES)[number];

/** All that a criterion may look at. */
export interface FitInput {
  readonly route: Route;
  readonly cohort: CohortInput;
  /** Minors where the cohort does not state its age band. */
  readonly ageBand: AgeBand;
  /** Participants and leaders together; one leader where their number is not stated. */
  readonly party: number;
  readonly shown: Demonstrated;
  readonly approach: Approach;
  /** Metabolic work of the route for one person of the age band, kJ; `null` where heights are missing. */
  readonly workKj: number | null;
  /** `null` where no height under the line is known. */
  readonly timeline: Timeline | null;
  readonly date: string;
  readonly design: Design;
  readonly units: UnitSystem;
}

/** The least that would turn a `notYet` or `stretch` into `fits`. */
export interface Gap {
  readonly criterion: CriterionName;
  /** An outing on the trip's date (`distanceM`, `gainM`, `rockClass`), or the share of its time the group may take (`timeFactor`). */
  readonly need: Readonly<Record<string, number | string>>;
  readonly text: string;
}

/** One question of fit, answered. Numbers are in `unit`; `null` is "not known" or "does not apply". */
export interface Judgement {
  readonly name: CriterionName;
  readonly demand: number | null;
  readonly capacity: number | null;
  readonly unit: string;
  readonly headroom: number | null;
  /** 0 to 1; `null` where the verdict is `incomplete`. */
  readonly value: number | null;
  readonly verdict: Verdict;
  readonly reason: string;
  readonly gap?: Gap;
  /** What to ask before the trip, although it does not hold up the verdict. */
  readonly toCheck?: string;
}

export interface Criterion {
  readonly name: CriterionName;
  readonly judge: (input: FitInput) => Judgement;
}

/** `capacity / demand − 1`; `null` where there is no demand to divide by. */
export function headroomOf(demand: number, capacity: number): number | null {
  return demand > 0 ? capacity / demand - 1 : null;
}
