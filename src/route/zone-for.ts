import type { Design } from '../design.ts';
import { zoneOf } from '../earth/zone.ts';
import type { Route } from './describe-route.ts';

/** The zone whose clock counts on a route: its own, else the program's, else that of the trailhead by the boundaries. */
export const zoneFor = (
  { attributes, trailhead }: Pick<Route, 'attributes' | 'trailhead'>,
  design: Design,
): string => attributes.timeZone ?? design.day.timeZone ?? zoneOf(trailhead);
