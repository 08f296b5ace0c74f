import { openContext } from '../../src/app/context.ts';
import { DEMO_DATE, loadDemo } from '../../src/app/demo.ts';
import { readRouteFiles } from '../../src/app/files.ts';
import { addRoutes, listRoutes } from '../../src/app/routes.ts';
import { shortlist } from '../../src/app/shortlist.ts';
import { DESIGN } from '../../src/design.ts';
import { rowOf } from '../../src/rank/route-row.ts';
import { openStore } from '../../src/storage/store.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { randomStream } from '../demo-range/random.ts';

const POINT = /<(?:trk|rte)pt lat="([^"]+)" lon="([^"]+)"/g;
/** As if stored before the demo's day, so that this is the day last asked about. */
const IN_SEASON_MS = Date.UTC(2026, 5, 30);
/** Lines that are measured; the others are these under another name, by a road of another length. */
const MEASURED = 150;

type Point = readonly [lat: string, lon: string];

const gpxOf = (points: readonly Point[]): string =>
  `<gpx version="1.1" creator="bench" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>${points
    .map(([lat, lon]) => `<trkpt lat="${lat}" lon="${lon}"/>`)
    .join('')}</trkseg></trk></gpx>`;

/**
 * A store with the demo's cohorts and so many routes: the demo's own, and made-up ones, its lines turned back after a
 * share drawn from a seed and measured on its tiles. Gives the ids of the cohorts.
 */
export async function storeLargeLibrary(databaseFile: string, size: number): Promise<readonly string[]> {
  const surface = await openSurface(['data/demo/dem']);
  const store = openStore(databaseFile);
  try {
    const context = openContext({ store, ground: { surface, design: DESIGN }, nowMs: () => IN_SEASON_MS });
    const cohorts = await loadDemo(context, 'data/demo');
    const { uniform } = randomStream(1, `context of ${size}`);
    const lines = (await readRouteFiles(['data/demo/routes'])).flatMap(({ bytes, attributes }) => {
      const points = [...new TextDecoder().decode(bytes).matchAll(POINT)].map(
        ([, lat = '', lon = '']): Point => [lat, lon],
      );
      return points.length === 0 ? [] : [{ points, attributes: attributes ?? null }];
    });
    const files = Array.from({ length: MEASURED }, (_, i) => {
      const { points = [], attributes = null } = lines[i % lines.length] ?? {};
      const out = points.slice(0, Math.ceil((points.length / 2) * (0.35 + 0.65 * uniform())));
      return {
        bytes: new TextEncoder().encode(gpxOf([...out, ...out.slice(0, -1).reverse()])),
        mediaType: 'application/gpx+xml',
        attributes: { ...attributes, name: `${attributes?.name ?? 'No name'} ${i}` },
      };
    });
    const { routes: measured } = await addRoutes(context, files);
    const stored = (await listRoutes(context, { limit: size, after: null })).length;
    const copies = Array.from({ length: size - stored }, (_, i) => {
      const { route } = measured[i % measured.length] ?? {};
      if (route === undefined) throw new RangeError('no line was measured');
      const name = `${route.name}.${Math.floor(i / measured.length) + 1}`;
      const trailhead = { ...route.attributes.trailhead, roadKm: Math.round(20 + 60 * uniform()) };
      return { ...route, name, attributes: { ...route.attributes, name, trailhead } };
    });
    await store.routes.add(
      [{ contentHash: 'made up', routes: copies.map((route) => ({ route, row: rowOf(route, DESIGN) })) }],
      context.method,
    );
    for (const id of cohorts) {
      await shortlist(context, {
        cohortId: id,
        date: DEMO_DATE,
        changes: null,
        limit: 1,
        verdicts: null,
        afterRank: 0,
      });
    }
    return cohorts;
  } finally {
    await store.close();
    await surface.close();
  }
}
