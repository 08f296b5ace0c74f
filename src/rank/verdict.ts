/** From best to worst; a route's verdict is its worst criterion's. */
export const VERDICTS = ['fits', 'stretch', 'notYet', 'incomplete', 'ruledOut'] as const;

export type Verdict = (typeof VERDICTS)[number];

export const verdictRank = (verdict: Verdict): number => VERDICTS.indexOf(verdict);

export function worst(verdicts: readonly Verdict[]): Verdict {
  return verdicts.reduce<Verdict>(
    (found, verdict) => (verdictRank(verdict) > verdictRank(found) ? verdict : found),
    'fits',
  );
}
