import type { Verdict } from '../../rank/verdict.ts';
import type { ShortlistReason } from '../cohort/shortlist.ts';
import type { FormFault, FormValues } from '../field.tsx';
import type { ReachMark } from '../reach.tsx';

/** A cohort to choose, with what the season is told of it. */
export interface SeasonFormCohort {
  readonly id: string;
  readonly name: string;
  /** Who they are, in a line. */
  readonly people: string;
  readonly isChosen: boolean;
  readonly notOn: string;
  readonly ledBy: string;
  readonly hasOwnVehicles: boolean;
}

export interface SeasonFormView {
  readonly cohorts: readonly SeasonFormCohort[];
  /** Cohorts that the list has no room for. */
  readonly cohortsBeside: number;
  readonly routes: number;
  /** Fields by name. */
  readonly values: FormValues;
  /** 1 Monday to 7 Sunday. */
  readonly weekdays: readonly number[];
  /** Rows of the form, those left empty too. */
  readonly rows: { readonly dates: number; readonly vehicles: number; readonly limits: number };
  /** Trailheads that limits may name. */
  readonly trailheads: readonly string[];
  readonly solveS: number;
  readonly fault: FormFault | null;
}

/** What a season's board is made for; the same before and after it is worked out. */
export interface SeasonAsked {
  readonly title: string;
  readonly size: string;
  /** Path and query of the form with all that was asked in it. */
  readonly changePath: string;
  readonly solveS: number;
}

export interface SeasonParty {
  readonly cohort: { readonly id: string; readonly name: string };
  readonly people: string;
  readonly route: { readonly id: string; readonly name: string };
  readonly trailhead: string | null;
  readonly verdict: Verdict;
  readonly verdictText: string;
  readonly score: string;
  readonly vehicles: string;
  readonly startBy: string | null;
  readonly backBy: string | null;
  readonly marks: readonly ReachMark[];
  readonly closest: string | null;
  readonly reasons: readonly ShortlistReason[];
  /** What it could have were it alone; `null`: nothing better. */
  readonly alone: string | null;
  readonly toCheck: readonly string[];
}

export interface SeasonDay {
  readonly date: string;
  /** With its day of the week. */
  readonly dateText: string;
  readonly parties: readonly SeasonParty[];
}

export interface SeasonBoardView {
  /** How many have a day and how good the board is. */
  readonly text: string;
  /** What was asked, each with its name. */
  readonly asked: readonly (readonly [name: string, text: string])[];
  /** Those on which somebody goes. */
  readonly days: readonly SeasonDay[];
  readonly nobodyOn: readonly string[];
  readonly unplaced: readonly {
    readonly cohort: { readonly id: string; readonly name: string };
    readonly people: string;
    /** Why, and what would give it a day. */
    readonly texts: readonly string[];
  }[];
  readonly notKnown: readonly string[];
}
