import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { wayToRoadText } from '../../src/document/route-card-text.ts';
import { destination } from '../../src/earth/geodesic.ts';
import { legGroundsOf } from '../../src/plan/leg-ground.ts';
import { wayToRoad } from '../../src/plan/way-to-road.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import { linePointsOf, placeAt } from '../../src/route/place-at.ts';
import { elevated, SOMEWHERE } from '../support/elevated.ts';
import { ATTRIBUTES, heights, routeOf, withGap } from './card-routes.ts';

const HILL = heights(1000, { count: 150, ratio: 0.2 }, { count: 100, ratio: -0.3 });
const outFrom = (route: Route, distanceM: number) =>
  wayToRoad(
    route,
    { ...placeAt(linePointsOf(route), distanceM), distanceM },
    legGroundsOf(route, DESIGN),
    DESIGN,
  );

describe('the way to a road', () => {
  it('is back before the top and onward behind it', () => {
    const route = routeOf({ heightsM: HILL });
    expect(wayToRoadText(outFrom(route, 1000), 'metric')).toBe('back the way you came, 1.0 km');
    expect(wayToRoadText(outFrom(route, 4000), 'metric')).toBe('onward to the end, 1.0 km');
    expect(wayToRoadText(outFrom(route, 0), 'metric')).toBe('here');
  });

  it('says so where the quicker end lies beyond the highest point', () => {
    const steepSide = routeOf({
      heightsM: heights(1000, { count: 250, ratio: 0.12 }, { count: 40, ratio: -0.6 }),
    });
    expect(wayToRoadText(outFrom(steepSide, 4800), 'metric')).toBe(
      'onward to the end, 1.0 km, 20 m up, over the highest point',
    );
  });

  it('never leads to an end without a road', () => {
    const upOnly = { heightsM: heights(1000, { count: 100, ratio: 0.2 }) };
    const measured = describeRoute(elevated(upOnly), DESIGN, { addWayBack: false });
    expect(outFrom(measured, 1900).line).toMatchObject({ direction: 'back', overHighPoint: false });
  });

  it('takes the way without a gap, and says where there is none', () => {
    const gapped = describeRoute(withGap({ heightsM: HILL }, 60, 75), DESIGN, { attributes: ATTRIBUTES });
    expect(outFrom(gapped, 1400).line).toMatchObject({ direction: 'onward', hasGap: false });
    expect(outFrom(gapped, 1000).line).toMatchObject({ direction: 'back', hasGap: false });
  });

  it('names the nearest stated way out with distance and notes, and no bearing over ground that nobody checked, after the way along the line', () => {
    const near = destination(SOMEWHERE, 90, 3000);
    const road = destination(near, 180, 600);
    const far = destination(near, 0, 9000);
    const route = routeOf(
      { heightsM: HILL },
      {
        ...ATTRIBUTES,
        waysOut: [
          { name: 'Far Road', lat: far.latDeg, lon: far.lonDeg },
          { name: 'Mill Road', lat: road.latDeg, lon: road.lonDeg, notes: 'locked gate' },
        ],
      },
    );
    expect(wayToRoadText(outFrom(route, 3000), 'metric')).toBe(
      'onward to the end, 2.0 km; or the way out “Mill Road” begins 0.6 km from here in a straight line, over ground that nobody has checked (locked gate)',
    );
    expect(outFrom(route, 3000).stated?.distanceM).toBeCloseTo(600, -1);
  });

  it('says so where a stated way out begins', () => {
    const saddle = destination(SOMEWHERE, 90, 2000);
    const route = routeOf(
      { heightsM: HILL },
      { ...ATTRIBUTES, waysOut: [{ lat: saddle.latDeg, lon: saddle.lonDeg }] },
    );
    expect(wayToRoadText(outFrom(route, 2000), 'us')).toBe(
      'back the way you came, 1.2 mi; or the way out begins here',
    );
  });
});
