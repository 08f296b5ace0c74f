/** From best to worst; a route's verdict is its worst criterion's. */
export const VERDICTS = ['fits', 'stretch', 'notYet', 'incomplete', 'ruledOut'] as const;

export type Verdict = (typeof VERDICTS)[number];

/** A verdict as a number that can be compared: its place among `VERDICTS`. */
export const verdictRank = (verdict: Verdict): number => VERDICTS.indexOf(verdict);

export const FITS = verdictRank('fits');
export const STRETCH = verdictRank('stretch');
export const NOT_YET = verdictRank('notYet');
export const INCOMPLETE = verdictRank('incomplete');
export const RULED_OUT = verdictRank('ruledOut');
