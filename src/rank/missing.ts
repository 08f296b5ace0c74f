import type { Route } from '../route/describe-route.ts';

/** Why the heights of a route are not all known, and what to do. */
export function missingText(route: Route): string {
  if (route.line.length > 1 && route.measures.demCoverage > 0.999) {
    return 'the line has a gap, and what lies in it is not known: draw the line through';
  }
  if (route.measures.demCoverage > 0) {
    return 'heights are missing under part of the line (no tile, or a void in it): add elevation tiles that hold it';
  }
  return 'no elevation tile covers the line: add tiles for its area';
}
