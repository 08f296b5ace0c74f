import type { Design } from '../design.ts';
import { localTimeMs, rfc3339 } from '../earth/local-time.ts';
import { zoneOf, zonesAround } from '../earth/zone.ts';
import type { Route } from './describe-route.ts';

/** The zone whose clock counts on a route: its own, else the program's, else that of the trailhead by the boundaries. */
export const zoneFor = (
  { attributes, trailhead }: Pick<Route, 'attributes' | 'trailhead'>,
  design: Design,
): string => attributes.timeZone ?? design.day.timeZone ?? zoneOf(trailhead);

/** So near a border clocks and telephones show either hour, metres (design). */
const BORDER_M = 10_000;

export interface ZoneClock {
  readonly zone: string;
  /** Ahead of UTC at noon of the date: `-06:00`. */
  readonly offset: string;
}

const clockOf = (zone: string, date: string): ZoneClock => ({
  zone,
  offset: rfc3339(localTimeMs(date, '12:00', zone), zone).slice(-6),
});

/** The zone that counts and one beside the trailhead that has another hour on the date; `null`: none, or the route states its own. */
export function zoneBorder(route: Pick<Route, 'attributes' | 'trailhead'>, date: string, design: Design) {
  if (route.attributes.timeZone != null) return null;
  const used = clockOf(zoneFor(route, design), date);
  const beside = [zoneOf(route.trailhead), ...zonesAround(route.trailhead, BORDER_M)]
    // A zone of the open sea is nobody's.
    .filter((zone) => !zone.startsWith('Etc/'))
    .map((zone) => clockOf(zone, date))
    .find(({ offset }) => offset !== used.offset);
  return beside === undefined ? null : { used, beside };
}
