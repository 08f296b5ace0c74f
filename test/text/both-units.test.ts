import { describe, expect, it } from 'vitest';
import type { Route } from '../../src/route/describe-route.ts';
import { bothUnitsText } from '../../src/text/both-units.ts';

const routeOf = (measures: Partial<Route['measures']>) => ({ measures: measures as Route['measures'] });

describe('the measures of a route on paper', () => {
  const full = routeOf({ distanceM: 9123, gainM: { value: 561, low: 540, high: 590 }, highM: 1950 });

  // 1 ft = 0.3048 m, 1 mile = 1,609.344 m (international, exact).
  it('are in the units of the reader, with the others behind', () => {
    expect(bothUnitsText(full, 'metric')).toBe(
      '9.1 km (5.7 mi), 560 m (1,850 ft) up, highest point 1,950 m (6,398 ft)',
    );
    expect(bothUnitsText(full, 'us')).toBe(
      '5.7 mi (9.1 km), 1,850 ft (560 m) up, highest point 6,398 ft (1,950 m)',
    );
  });

  it('say what is not known', () => {
    expect(bothUnitsText(routeOf({ distanceM: 9123, gainM: null, highM: null }), 'metric')).toBe(
      '9.1 km (5.7 mi), climb not known, highest point not known',
    );
  });
});
