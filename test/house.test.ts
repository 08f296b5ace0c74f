import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';

/** The pipeline: each place imports only places above it (and itself). */
const ORDER = [
  'units',
  'notes',
  'message',
  'errors',
  'array',
  'schema',
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
  'rank',
  'sampling',
  'season',
  'plan',
  'text',
  'views',
  'markup',
  'drawing',
  'document',
  'storage',
  'app',
  'http',
  'site',
  'service',
  'server',
  'cli',
];

/** Which place may import which library or part of the platform. */
const ONLY_IN: Record<string, string[]> = {
  'better-sqlite3': ['storage/'],
  kysely: ['storage/'],
  'fast-xml-parser': ['document/route-gpx.ts', 'terrain/vrt.ts'],
  saxes: ['ingest/xml.ts'],
  geotiff: ['terrain/geotiff-tile.ts'],
  lerc: ['terrain/decode-block.ts'],
  proj4: ['terrain/projection.ts'],
  zstddec: ['terrain/decode-block.ts'],
  'geographiclib-geodesic': ['earth/geodesic.ts'],
  geomagnetism: ['earth/declination.ts'],
  mgrs: ['earth/grid-reference.ts'],
  '@turf/boolean-point-in-polygon': ['earth/in-outline.ts'],
  '@turf/helpers': ['earth/in-outline.ts'],
  'geo-tz': ['earth/zone.ts'],
  highs: ['app/solve-program.ts'],
  luxon: ['earth/local-time.ts'],
  'ml-matrix': ['capability/least-squares.ts'],
  preact: ['markup/', 'drawing/', 'document/', 'site/'],
  'preact-render-to-string': ['markup/', 'drawing/', 'document/', 'site/'],
  'd3-contour': ['drawing/map/isolines.ts'],
  'd3-scale': ['drawing/'],
  'd3-shape': ['drawing/'],
  'fast-png': ['drawing/map/relief.ts'],
  fastify: ['http/', 'site/', 'service.ts', 'server.ts'],
  '@fastify/': ['http/', 'site/', 'service.ts'],
  commander: ['cli/'],
  'cli-progress': ['cli/progress.ts'],
  'node:fs': ['terrain/', 'storage/', 'app/files.ts', 'site/assets.ts'],
  'node:crypto': ['service.ts', 'storage/', 'app/', 'http/', 'site/'],
  yauzl: ['terrain/packed-hgt.ts'],
  'node:zlib': ['terrain/'],
  'node:worker_threads': [
    'start-thread.ts',
    'app/board-thread.ts',
    'app/sample-thread.ts',
    'app/sample-in-thread.ts',
    'terrain/decode-pool.ts',
    'terrain/decode-thread.ts',
  ],
  'node:http': ['http/', 'service.ts', 'server.ts'],
};

const files = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name))
  .map((name) => name.replaceAll('\\', '/'));
const text = (file: string): string => readFileSync(join('src', file), 'utf8');
const placeOf = (file: string): string => (file.split('/')[0] ?? '').replace(/\.tsx?$/, '');
const importsOf = (file: string): string[] =>
  [...text(file).matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((match) => match[1] ?? '');

const neighbours = new Map(
  files.map((file) => [
    file,
    importsOf(file)
      .filter((target) => target.startsWith('.') && !target.includes('/data/'))
      .map((target) => relative('src', join('src', file, '..', target)).replaceAll('\\', '/')),
  ]),
);
const neighboursOf = (file: string): readonly string[] => neighbours.get(file) ?? [];

describe('the house', () => {
  it('knows the place of every file', () => {
    expect(files.map(placeOf).filter((place) => !ORDER.includes(place))).toEqual([]);
  });

  it('imports only places above', () => {
    const wrong = files.flatMap((file) =>
      neighboursOf(file)
        .filter((target) => ORDER.indexOf(placeOf(target)) > ORDER.indexOf(placeOf(file)))
        .map((target) => `${file} -> ${target}`),
    );
    expect(wrong).toEqual([]);
  });

  it('has no circle of imports', () => {
    const reached = (from: string): Set<string> => {
      const seen = new Set<string>();
      const next = [...neighboursOf(from)];
      for (let file = next.pop(); file !== undefined; file = next.pop()) {
        if (seen.has(file)) continue;
        seen.add(file);
        next.push(...neighboursOf(file));
      }
      return seen;
    };
    expect(files.filter((file) => reached(file).has(file))).toEqual([]);
  });

  it('has no file over 400 lines', () => {
    expect(files.filter((file) => text(file).split('\n').length > 401)).toEqual([]);
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
    const rim = ['storage/', 'app/', 'http/', 'site/', 'cli/', 'service.ts', 'server.ts'];
    const wrong = files
      .filter((file) => !rim.some((door) => file.startsWith(door)))
      .filter((file) =>
        /Date\.now\(|new Date\(\)|process\.env|Math\.random\(|DateTime\.now\(/.test(text(file)),
      );
    expect(wrong).toEqual([]);
  });

  it('reads no text back that was made for people', () => {
    const taking = String.raw`\.(?:replace(?:All)?|split|match(?:All)?|search|includes|startsWith|endsWith|indexOf|slice)\(`;
    // What is in `text/` may shape its own words; a note, a reason and an error are data everywhere else.
    const wrong = files
      .filter((file) => !file.startsWith('text/'))
      .flatMap((file) => {
        const made = [...text(file).matchAll(/import \{([^}]*)\} from '[./]*\/text\/[^']+'/g)]
          .flatMap(([, names = '']) => names.split(','))
          .map((name) => name.trim())
          .filter((name) => /^[a-z]/.test(name));
        // What an earlier place calls a text is one that it was given.
        const isLater = ORDER.indexOf(placeOf(file)) > ORDER.indexOf('text');
        const producers = [
          ...made,
          ...(isLater ? [String.raw`\w+(?:Text|Words|Sentence|Clause)`] : ['^$']),
        ].join('|');
        const call = String.raw`(?<![\w.])(?:${producers})\((?:[^()]|\([^()]*\))*\)`;
        const field = String.raw`(?<!\berror\.)\b(?:reason|detail|sentence|toCheck\w*)\??`;
        const onText = new RegExp(
          `(?:${call}|${field})${taking}|\\/[gimsuy]*\\.(?:test|exec)\\((?:${call}|[\\w.]*\\b(?:reason|detail))\\)`,
          'g',
        );
        return [...text(file).matchAll(onText)].map(([found]) => `${file}: ${found}`);
      });
    expect(wrong).toEqual([]);
  });

  it('leaves the values of an error to those who put it into words', () => {
    const wrong = files.filter((file) => /new EngineError\(\s*(?:'[\w-]+'|[\w.]+),\s*`/.test(text(file)));
    expect(wrong).toEqual([]);
  });
});
