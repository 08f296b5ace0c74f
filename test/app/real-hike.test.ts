import { existsSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Ground, routesOf } from '../../src/app/measure.ts';
import { outingOfTrack } from '../../src/app/recordings.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { fitInput, judge } from '../support/fit-input.ts';

const DATA = '../shared/data';
const HIKE = `${DATA}/tracks/cima-sasso.gpx`;

describe.skipIf(!existsSync(HIKE))('a real hike on real tiles (needs ../shared/data)', () => {
  let ground: Ground;
  let route: Route;
  let outing: Outing;

  beforeAll(async () => {
    ground = { surface: await openSurface([`${DATA}/dem`]), design: DESIGN };
    const file = { bytes: readFileSync(HIKE), fileName: 'cima-sasso.gpx' };
    const [first] = await routesOf(file, ground, false);
    if (first === undefined) throw new RangeError('no route');
    route = first;
    outing = await outingOfTrack(file, { date: '2016-04-10', rockClass: null, members: null }, ground, null);
  });

  afterAll(() => ground.surface.close());

  it('is about 12 km out and back, fully on the tiles', () => {
    // Regional tourist office: about 12 km return
    expect(route.measures.distanceM).toBeGreaterThan(11_000);
    expect(route.measures.distanceM).toBeLessThan(11_900);
    expect(route.measures.shape).toBe('outAndBack');
    expect(route.measures.demCoverage).toBe(1);
  });

  it('climbs within its band what is published, in a band that says something', () => {
    // Regional tourist office: about 1,200 m of climb in all
    const gainM = route.measures.gainM ?? { value: 0, low: 0, high: 0 };
    expect(gainM.low).toBeLessThanOrEqual(1200);
    expect(gainM.high).toBeGreaterThanOrEqual(1200);
    expect(gainM.value).toBeGreaterThan(1080);
    expect(gainM.value).toBeLessThan(1330);
    expect((gainM.high - gainM.low) / gainM.value).toBeLessThan(0.3);
  });

  it('tops out where the tile lets it', () => {
    expect(route.measures.highM).toBeGreaterThan(1840);
    expect(route.measures.highM).toBeLessThan(1890);
  });

  it('moves for as long as the reference reading of its clock says, within 3 minutes', () => {
    // Moving over 0.15 m/s: 139 min up, 132 min down (computed apart from this project)
    expect(Math.abs((outing.parts[0]?.movingMin ?? 0) - 139)).toBeLessThan(3);
    expect(Math.abs((outing.parts[1]?.movingMin ?? 0) - 132)).toBeLessThan(3);
  });
});

describe.skipIf(!existsSync(`${DATA}/dem/N44W072.hgt`))(
  'a line over Mount Washington on its tile (needs ../shared/data)',
  () => {
    // Drawn by this test: from the west below treeline, over the summit (44.2706 N, 71.3033 W), and down to the east.
    const line = {
      type: 'Feature',
      properties: { name: 'Over the top', rockClass: '2' } as Record<string, unknown>,
      geometry: {
        type: 'LineString',
        coordinates: Array.from({ length: 101 }, (_, i) => [-71.35 + (i * 0.0933) / 100, 44.2706]),
      },
    };
    const measure = async (properties: Record<string, unknown>, design = DESIGN) => {
      const surface = await openSurface([`${DATA}/dem/N44W072.hgt`]);
      try {
        const bytes = new TextEncoder().encode(JSON.stringify({ ...line, properties }));
        const [route] = await routesOf({ bytes, fileName: 'line.geojson' }, { surface, design }, false);
        if (route === undefined) throw new RangeError('no route');
        return route;
      } finally {
        await surface.close();
      }
    };

    it('reads the summit 0 to 45 m below its published height', async () => {
      // 1,916.6 m (Natural Earth elevation points, CC0); a 3″ surface model reads low on summits
      const route = await measure(line.properties);
      expect(1916.6 - (route.measures.highM ?? 0)).toBeGreaterThanOrEqual(0);
      expect(1916.6 - (route.measures.highM ?? 0)).toBeLessThanOrEqual(45);
    });

    it('has the metres above the Forest Service’s treeline that the heights have', async () => {
      // US Forest Service, Mount Washington: treeline about 5,000 ft (1,524 m)
      const route = await measure({ ...line.properties, treelineM: 1524 });
      const steps = route.profile.slice(1).map(([distanceM, heightM], i) => {
        const [beforeM, beforeHeightM] = route.profile[i] ?? [0, 0];
        const isAbove = ((heightM ?? 0) + (beforeHeightM ?? 0)) / 2 > 1524;
        return isAbove ? distanceM - beforeM : 0;
      });
      const expected = steps.reduce((sum, step) => sum + step, 0);
      expect(expected).toBeGreaterThan(2000);
      expect(Math.abs((route.measures.aboveTreelineM ?? 0) - expected)).toBeLessThan(60);
      expect(route.measures.treelineSource).toBe('route');
    });

    it('leaves the storm question open where no treeline is stated, and says what to state', async () => {
      const route = await measure(line.properties);
      expect(route.measures.treelineSource).toBe('unknown');
      const judged = judge('stormWindow', fitInput({ route }));
      expect(judged.verdict).toBe('incomplete');
      expect(judged.code).toBe('noTreeline');
      expect(judged.reason).toContain('state its height for the route');
    });

    it('uses the program’s treeline where the route has none', async () => {
      const route = await measure(line.properties, withChanges({ treeline: { programM: 1500 } }));
      expect(route.measures).toMatchObject({ treelineM: 1500, treelineSource: 'program' });
    });
  },
);
