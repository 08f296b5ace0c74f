import type { CriterionName } from '../../rank/criteria/index.ts';
import type { Verdict } from '../../rank/verdict.ts';
import type { ReachMark } from '../reach.tsx';

/** What a shortlist can be ordered by. */
export type SortKey = 'place' | 'name' | 'length' | 'climb' | 'top' | CriterionName;

/** What was asked of a shortlist: everything that stands in its address. */
export interface ShortlistAsked {
  readonly date: string;
  /** Only these; empty: all. */
  readonly verdicts: readonly Verdict[];
  /** Only routes with this text in their name or trailhead. */
  readonly text: string;
  readonly sort: SortKey;
  readonly descending: boolean;
  readonly page: number;
  /** What is asked to be otherwise than it is stored: fields and their texts; empty: nothing. */
  readonly changes: readonly (readonly [field: string, text: string])[];
}

export interface ShortlistReason {
  readonly question: string;
  readonly verdict: Verdict;
  readonly text: string;
}

/** How sure a route's place is, in words. */
export interface PlaceSure {
  /** Where it stands in nine trials of ten: `1–3`; `null` where nobody asks. */
  readonly places: string | null;
  /** How often it comes first, in words; `null`: hardly ever, or not asked. */
  readonly first: string | null;
  /** Places that the trials do not tell from its own, itself among them: `2 to 4`. */
  readonly levelWith: string | null;
}

/** A row in HTML; how sure its place is stands between the two. */
export type RowHtml = readonly [before: string, after: string];

/** One route of the shortlist, in words, but for how sure its place is. */
export interface ShortlistRow {
  readonly id: string;
  readonly name: string;
  readonly trailhead: string | null;
  readonly place: number;
  readonly verdict: Verdict;
  readonly verdictText: string;
  /** `null`: it has none. */
  readonly score: string | null;
  readonly length: string;
  readonly climb: string;
  readonly top: string;
  readonly rockClass: string;
  readonly marks: readonly ReachMark[];
  /** Which demands come closest to what the group can do, or go farthest beyond it. */
  readonly closest: string | null;
  /** The arithmetic of its score; `null` where nobody chooses by it. */
  readonly scoreText: string | null;
  /** Its times; `null`: none can be given. */
  readonly day: string | null;
  /** The answers that carry the verdict. */
  readonly reasons: readonly ShortlistReason[];
  /** What would open it. */
  readonly gaps: readonly string[];
  readonly toCheck: readonly string[];
  readonly notes: readonly string[];
}

export interface ShortlistView {
  readonly cohortId: string;
  readonly asked: ShortlistAsked;
  /** How many routes of all are shown and what they are, in a sentence. */
  readonly summary: string;
  /** How sure the order is. */
  readonly order: readonly string[];
  /** What is to be known of the deadline before any verdict is read; `null`: nothing. */
  readonly caution: string | null;
  readonly toCheckForAll: readonly string[];
  /** What is otherwise with the changes, a route each; `null`: nothing was asked to be changed. */
  readonly moved: readonly string[] | null;
  /** How many moved beside those told. */
  readonly movedBeside: number;
  readonly rows: readonly { readonly html: RowHtml; readonly sure: PlaceSure }[];
  readonly pages: number;
}

/** The address of a shortlist; what is as usual is left out. */
export function shortlistPath(cohortId: string, asked: ShortlistAsked): string {
  const query = new URLSearchParams({ date: asked.date });
  for (const verdict of asked.verdicts) query.append('verdict', verdict);
  if (asked.text !== '') query.set('q', asked.text);
  if (asked.sort !== 'place' || asked.descending)
    query.set('sort', `${asked.descending ? '-' : ''}${asked.sort}`);
  for (const [field, text] of asked.changes) query.append(field, text);
  if (asked.page > 1) query.set('page', String(asked.page));
  return `/cohorts/${cohortId}?${query}`;
}
