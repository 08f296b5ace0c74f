import type { CriterionName } from '../../rank/criteria/index.ts';
import type { Judgement } from '../../rank/judgement.ts';
import type { Missing } from '../../rank/missing.ts';
import type { UnitSystem } from '../../units.ts';

/** A judgement in words, in its reader's units. */
export interface JudgementWords {
  readonly reason: string;
  /** What is asked of the group, of those that training changes. */
  readonly demand?: string;
  /** What would turn it into `fits`. */
  readonly gap?: string;
  /** What to ask before the trip, although it does not hold up the verdict. */
  readonly toCheck?: string | null;
}

/** How one criterion is told. */
export interface CriterionWords<Name extends CriterionName> {
  /** The question in a word or two. */
  readonly question: string;
  readonly words: (
    judgement: Extract<Judgement, { readonly name: Name }>,
    units: UnitSystem,
  ) => JudgementWords;
}

const MISSING: Record<Missing, string> = {
  lineGap: 'the line has a gap, and what lies in it is not known: draw the line through',
  partOfHeights:
    'heights are missing under part of the line (no tile, or a void in it): add elevation tiles that hold it',
  allHeights: 'no elevation tile covers the line: add tiles for its area',
};

/** Why the heights of a route are not all known, and what to do. */
export const missingText = (missing: Missing): string => MISSING[missing];
