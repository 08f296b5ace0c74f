import type { Route } from '../route/describe-route.ts';

/** Why the heights of a route are not all known: a gap in its line, tiles under a part of it alone, or none at all. */
export type Missing = 'lineGap' | 'partOfHeights' | 'allHeights';

export function missingOf({ line, measures }: Pick<Route, 'line' | 'measures'>): Missing {
  if (line.length > 1 && measures.demCoverage > 0.999) return 'lineGap';
  return measures.demCoverage > 0 ? 'partOfHeights' : 'allHeights';
}
