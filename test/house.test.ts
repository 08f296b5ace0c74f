import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';

/** The pipeline: each place imports only places above it (and itself). */
const ORDER = [
  'units',
  'errors',
  'design',
  'config',
  'start-thread',
  'earth',
  'ingest',
  'terrain',
  'route',
  'capability',
  'approach',
  'day',
  'fit',
  'plan',
  'storage',
  'engine',
  'library',
  'web',
  'api',
  'terminal',
  'server',
  'cli',
];

/** Which place may import which library or part of the platform. */
const ONLY_IN: Record<string, string[]> = {
  'better-sqlite3': ['storage/'],
  kysely: ['storage/'],
  'fast-xml-parser': ['plan/route-gpx.ts', 'terrain/vrt.ts'],
  saxes: ['ingest/xml-walk.ts'],
  geotiff: ['terrain/geotiff-tile.ts'],
  lerc: ['terrain/decode-block.ts'],
  proj4: ['terrain/projection.ts'],
  zstddec: ['terrain/decode-block.ts'],
  'geographiclib-geodesic': ['earth/geodesic.ts'],
  geomagnetism: ['earth/declination.ts'],
  mgrs: ['earth/grid-reference.ts'],
  '@turf/boolean-point-in-polygon': ['earth/in-outline.ts'],
  '@turf/helpers': ['earth/in-outline.ts'],
  '@photostructure/tz-lookup': ['earth/zone.ts'],
  highs: ['engine/solve-program.ts'],
  luxon: ['earth/local-time.ts'],
  'ml-matrix': ['capability/least-squares.ts'],
  '@stdlib/': ['capability/pace-model.ts'],
  preact: ['web/'],
  'preact-render-to-string': ['web/'],
  'd3-contour': ['web/map/isolines.ts'],
  'd3-scale': ['web/'],
  'd3-shape': ['web/'],
  'fast-png': ['web/map/hillshade.ts'],
  fastify: ['api/', 'server.ts'],
  '@fastify/': ['api/'],
  commander: ['terminal/commands.ts'],
  'cli-progress': ['terminal/progress.ts'],
  'node:fs': ['terrain/', 'storage/', 'terminal/files.ts', 'api/pages/assets.ts'],
  'node:crypto': ['storage/', 'library.ts', 'library/', 'api/'],
  yauzl: ['terrain/packed-hgt.ts'],
  'node:zlib': ['terrain/'],
  'node:worker_threads': [
    'start-thread.ts',
    'engine/board-thread.ts',
    'library/draw-thread.ts',
    'library/drawn-apart.ts',
    'terrain/decode-pool.ts',
    'terrain/decode-thread.ts',
  ],
  'node:http': ['api/', 'server.ts'],
};

const files = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name))
  .map((name) => name.replaceAll('\\', '/'));
const text = (file: string): string => readFileSync(join('src', file), 'utf8');
const placeOf = (file: string): string => (file.split('/')[0] ?? '').replace(/\.tsx?$/, '');
const importsOf = (file: string): string[] =>
  [...text(file).matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((match) => match[1] ?? '');

describe('the house', () => {
  it('knows the place of every file', () => {
    expect(files.map(placeOf).filter((place) => !ORDER.includes(place))).toEqual([]);
  });

  it('imports only places above', () => {
    const wrong = files.flatMap((file) =>
      importsOf(file)
        .filter((target) => target.startsWith('.') && !target.includes('/data/'))
        .map((target) => relative('src', join('src', file, '..', target)).replaceAll('\\', '/'))
        .filter((target) => ORDER.indexOf(placeOf(target)) > ORDER.indexOf(placeOf(file)))
        .map((target) => `${file} -> ${target}`),
    );
    expect(wrong).toEqual([]);
  });

  it('lets each risky library in by one door', () => {
    const wrong = files.flatMap((file) =>
      importsOf(file).flatMap((target) => {
        const rule = Object.keys(ONLY_IN).find(
          (library) =>
            target === library || target.startsWith(library.endsWith('/') ? library : `${library}/`),
        );
        if (rule === undefined) return [];
        return (ONLY_IN[rule] ?? []).some((door) => file.startsWith(door)) ? [] : [`${file} -> ${target}`];
      }),
    );
    expect(wrong).toEqual([]);
  });

  it('reads the clock, the environment and chance only at the rim', () => {
    const rim = ['storage/', 'api/', 'terminal/', 'server.ts', 'cli.ts', 'library.ts'];
    const wrong = files
      .filter((file) => !rim.some((door) => file.startsWith(door)))
      .filter((file) =>
        /Date\.now\(|new Date\(\)|process\.env|Math\.random\(|DateTime\.now\(/.test(text(file)),
      );
    expect(wrong).toEqual([]);
  });
});
