import type { Route } from '../route/describe-route.ts';
import type { UnitSystem } from '../units.ts';
import { climbText, heightText, lengthText } from './words.ts';

/**
 * The measures of a route in the units of its reader, with the others behind: on paper they are read by people who
 * chose no units. `9.1 km (5.7 mi), 560 m (1,850 ft) up, highest point 1,950 m (6,398 ft)`.
 */
export function bothUnitsText({ measures }: Pick<Route, 'measures'>, units: UnitSystem): string {
  const other = units === 'us' ? 'metric' : 'us';
  const both = (text: (metres: number, of: UnitSystem) => string, metres: number) =>
    `${text(metres, units)} (${text(metres, other)})`;
  const { distanceM, gainM, highM } = measures;
  return [
    both(lengthText, distanceM),
    gainM === null ? 'climb not known' : `${both(climbText, gainM.value)} up`,
    highM === null ? 'highest point not known' : `highest point ${both(heightText, highM)}`,
  ].join(', ');
}
