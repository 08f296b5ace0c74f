import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { sourcesView } from '../../src/route/attribution.ts';
import { describeRoute } from '../../src/route/describe-route.ts';
import { measureRows } from '../../src/text/measure-words.ts';
import { elevated, FINE_TILE, upAndDown } from '../support/elevated.ts';

const measured = elevated({ heightsM: upAndDown(4000, 1200, 800) });
const [east, west] = ['/tiles/range-east.tif', '/tiles/range-west.tif'];

/** The route as measured where one tile ends and the next one goes on. */
const over = (sources: Parameters<typeof describeRoute>[0]['sources']) =>
  describeRoute({ ...measured, sources }, DESIGN);

const tilesOf = (route: Parameters<typeof measureRows>[0], units: 'metric' | 'us' = 'metric') =>
  measureRows(route, units).flatMap(([name, value]) => (name === 'tile' ? [value] : []));

describe('measureRows', () => {
  it('names each tile with how fine and of when it is, and where along the route it stands', () => {
    const route = over([
      {
        tile: { ...FINE_TILE, path: east, postingM: 30.9, dateMs: Date.UTC(2021, 3, 22) },
        share: 0.7,
        stretches: [
          [0, 3000],
          [5400, 8000],
        ],
      },
      {
        tile: { ...FINE_TILE, path: west, postingM: 92.6, dateMs: null },
        share: 0.3,
        stretches: [[3000, 5400]],
      },
    ]);
    expect(tilesOf(route)).toEqual([
      'range-east.tif (a height every 31 m, of 2021-04-22): 0.0 km to 3.0 km, 5.4 km to 8.0 km',
      'range-west.tif (a height every 93 m, date not stated): 3.0 km to 5.4 km',
    ]);
    expect(tilesOf(route, 'us')[1]).toBe(
      'range-west.tif (a height every 300 ft, date not stated): 1.9 mi to 3.4 mi',
    );
    expect(sourcesView(route)).toMatchObject([
      { tile: 'range-east.tif', postingM: 30.9, date: '2021-04-22' },
      { tile: 'range-west.tif', postingM: 92.6, date: null },
    ]);
  });

  it('counts the stretches of a tile that are too many to name', () => {
    const stretches = Array.from({ length: 9 }, (_, i) => [i * 800, i * 800 + 400] as const);
    expect(tilesOf(over([{ tile: { ...FINE_TILE, path: east }, share: 0.5, stretches }]))[0]).toMatch(
      /4\.0 km to 4\.4 km, 3 more$/,
    );
  });

  it('says nothing that an earlier version did not keep with a route', () => {
    const [source] = over(measured.sources).sources;
    if (source === undefined) throw new Error('the route has a tile');
    const { postingM: _posting, dateMs: _date, ...kept } = source;
    expect(tilesOf({ ...over(measured.sources), sources: [{ ...kept, share: 1 }] })[0]).toMatch(
      /\(date not stated\): all of the line$/,
    );
  });
});
