import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { XMLValidator } from 'fast-xml-parser';
import { fromArrayBuffer } from 'geotiff';
import { Value } from 'typebox/value';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COLUMNS, NORTH_DEG, ROWS, STEPS_PER_DEG, WEST_DEG } from '../../scripts/demo-range/frame.ts';
import { makeTerrain } from '../../scripts/demo-range/terrain.ts';
import { DEMO_SEED, makeDemo } from '../../scripts/make-demo.ts';
import { routeAttributesSchema } from '../../src/ingest/attributes.ts';

const SHIPPED = 'data/demo';

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)))
    .sort();
}

const hashes = (folder: string): string[] =>
  filesBelow(folder).map(
    (path) =>
      `${path} ${createHash('sha256')
        .update(readFileSync(join(folder, path)))
        .digest('hex')}`,
  );

const shipped = (under: string, ending: string): string[] =>
  filesBelow(join(SHIPPED, under))
    .filter((path) => path.endsWith(ending))
    .map((path) => join(SHIPPED, under, path));

const json = (path: string): unknown => JSON.parse(readFileSync(path, 'utf8'));

describe('the demo as the script makes it', () => {
  let folder = '';
  let written: string[] = [];

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'demo-range-'));
    written = makeDemo(folder);
  }, 120_000);

  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('is the demo that ships, byte for byte, with no file more or less', () => {
    expect(hashes(folder)).toEqual(hashes(SHIPPED));
    expect([...written].sort()).toEqual(filesBelow(folder));
  });

  it('stays under 5 MB in all and 1.5 MB a tile', () => {
    const sizes = filesBelow(folder).map((path) => ({
      path,
      bytes: readFileSync(join(folder, path)).length,
    }));
    expect(sizes.reduce((sum, { bytes }) => sum + bytes, 0)).toBeLessThan(5_000_000);
    for (const { path, bytes } of sizes)
      if (path.endsWith('.tif')) expect(bytes, path).toBeLessThan(1_500_000);
  });
});

describe('the demo’s elevation tiles', () => {
  const read = async (side: string) => {
    const bytes = readFileSync(join(SHIPPED, 'dem', `corvanney-${side}.tif`));
    const image = await (await fromArrayBuffer(new Uint8Array(bytes).buffer)).getImage();
    const [heights] = await image.readRasters();
    if (!(heights instanceof Int16Array)) throw new Error('not int16');
    return { image, heights };
  };

  it('say what they are: int16 metres on postings, EPSG:4326 and EGM2008, void −32768', async () => {
    for (const [side, west] of [
      ['west', WEST_DEG],
      ['east', WEST_DEG + (COLUMNS - 1) / 2 / STEPS_PER_DEG],
    ] as const) {
      const { image } = await read(side);
      expect(image.getGeoKeys()).toMatchObject({
        GTModelTypeGeoKey: 2,
        GTRasterTypeGeoKey: 2,
        GeographicTypeGeoKey: 4326,
        VerticalCSTypeGeoKey: 3855,
        VerticalUnitsGeoKey: 9001,
      });
      expect(image.getGDALNoData()).toBe(-32768);
      const [tiePoint] = await image.getTiePoints();
      expect(tiePoint).toMatchObject({ i: 0, j: 0, y: NORTH_DEG });
      expect(tiePoint?.x).toBeCloseTo(west, 9);
    }
  });

  it('hold the ground that was made, and share their middle column', async () => {
    const terrain = makeTerrain(DEMO_SEED);
    const columns = (COLUMNS + 1) / 2;
    const { heights: west } = await read('west');
    const { heights: east } = await read('east');
    let wrong = 0;
    for (let i = 0; i < columns * ROWS; i++) {
      const column = i % columns;
      const at = ((i - column) / columns) * COLUMNS + column;
      if (west[i] !== terrain[at] || east[i] !== terrain[at + columns - 1]) wrong++;
    }
    expect(wrong).toBe(0);
    expect(Math.max(...terrain.subarray(0, COLUMNS))).toBe(0);
    expect(terrain.reduce((most, height) => Math.max(most, height), 0)).toBeGreaterThan(3400);
  }, 60_000);
});

describe('the demo’s files', () => {
  it('state attributes that the schema accepts', () => {
    const files = shipped('routes', '.route.json');
    expect(files.length).toBeGreaterThanOrEqual(14);
    for (const path of files) expect([...Value.Errors(routeAttributesSchema, json(path))], path).toEqual([]);
    for (const path of shipped('routes', '.geojson')) {
      const feature = json(path) as { properties: unknown };
      expect([...Value.Errors(routeAttributesSchema, feature.properties)], path).toEqual([]);
    }
  });

  it('are well-formed GPX with positions inside the tiles', () => {
    const files = [...shipped('routes', '.gpx'), ...shipped('cohorts', '.gpx')];
    expect(files.length).toBeGreaterThanOrEqual(20);
    for (const path of files) {
      const text = readFileSync(path, 'utf8');
      expect(XMLValidator.validate(text), path).toBe(true);
      const positions = [...text.matchAll(/<(?:trkpt|rtept) lat="([^"]+)" lon="([^"]+)"/g)];
      expect(positions.length, path).toBeGreaterThan(100);
      for (const [, lat, lon] of positions) {
        if (Math.abs(Number(lat) - 46.1) > 0.11 || Math.abs(Number(lon) + 30.2) > 0.22) {
          expect.fail(`${path}: ${lat}, ${lon} lies beyond the tiles`);
        }
      }
    }
  });

  it('give walks a clock that only runs forwards, 10 to 15 s a fix', () => {
    for (const path of shipped('cohorts/walks', '.gpx')) {
      const times = [...readFileSync(path, 'utf8').matchAll(/<time>([^<]+)</g)].map(([, time]) =>
        Date.parse(time ?? ''),
      );
      const steps = times.slice(1).map((time, k) => (time - (times[k] ?? 0)) / 1000);
      expect(Math.min(...steps), path).toBeGreaterThanOrEqual(10);
      expect(Math.max(...steps), path).toBeLessThanOrEqual(15);
    }
  });

  it('name only walks that exist and members that the cohort has', () => {
    const cohorts = shipped('cohorts', '.json').map(
      (path) =>
        json(path) as {
          members?: string[];
          participants: number;
          outings: { track?: string; members?: string[] }[];
        },
    );
    expect(cohorts).toHaveLength(3);
    const walks = filesBelow(join(SHIPPED, 'cohorts')).filter((path) => path.endsWith('.gpx'));
    const named = cohorts.flatMap(({ outings }) => outings.flatMap(({ track }) => track ?? []));
    expect([...named].sort()).toEqual(walks);
    for (const { members, participants, outings } of cohorts) {
      if (members === undefined) continue;
      expect(members).toHaveLength(participants);
      const walked = new Set(outings.flatMap((outing) => outing.members ?? []));
      expect([...walked].sort()).toEqual([...members].sort());
    }
  });
});
