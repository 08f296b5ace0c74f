import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openHttpRanges, type RemoteAccess } from '../../src/terrain/http-ranges.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { writeTiff } from './tiff-writer.ts';
import { DATA, planeM, planeTile, tileFolder } from './tile-folder.ts';
import { tileServer } from './tile-server.ts';

const files = tileFolder();
// Larger than what opening brings along: 400 × 400 doubles in strips of ten rows.
const plan = planeTile(-30.4, 46.3, 0.001, 400, 400, { rowsPerStrip: 10 });
const tile = writeTiff(plan);
const server = await tileServer(tile);
const access = (more: Partial<RemoteAccess> = {}): RemoteAccess => ({
  hosts: [server.host],
  random: () => 0,
  timeoutMs: 300,
  waitMs: 1,
  ...more,
});
const open = async (more: Partial<RemoteAccess> = {}) => {
  server.behave();
  const surface = await openSurface([server.address], { remote: access(more) });
  server.asked();
  return surface;
};
const LONS = [-30.3905, -30.3005, -30.2105];
const LATS = [46.2955, 46.1155, 46.2055];

describe('a tile over HTTP', () => {
  it('gives the heights of the same file on disk', async () => {
    const local = await openSurface([files.write('local.tif', tile)]);
    const remote = await open();
    const got = (await remote.heightsAt(LONS, LATS)).heightsM;
    expect(got).toEqual((await local.heightsAt(LONS, LATS)).heightsM);
    expect(got[0]).toBeCloseTo(planeM(-30.3905, 46.2955), 6);
  });

  it('asks once to open, once to see that a block decodes, and once a block', async () => {
    server.behave();
    server.asked();
    const surface = await openSurface([server.address], { remote: access() });
    // The directory of this file stands at its end, as GDAL's cloud-optimised files never have it.
    expect(server.asked().length).toBeLessThanOrEqual(6);
    await surface.heightsAt(LONS, LATS);
    expect(server.asked().length).toBeLessThanOrEqual(LONS.length);
    await surface.heightsAt(LONS, LATS);
    expect(server.asked()).toEqual([]);
  });

  it('puts ranges that lie together into one request', async () => {
    server.behave();
    const ranges = await openHttpRanges(server.address, access());
    server.asked();
    const parts = await Promise.all([
      ranges.read(100_000, 50),
      ranges.read(100_050, 50),
      ranges.read(101_000, 10),
      ranges.read(900_000, 10),
    ]);
    expect(server.asked()).toEqual(['bytes=100000-101009', 'bytes=900000-900009']);
    expect(Buffer.from(parts[2] ?? [])).toEqual(tile.subarray(101_000, 101_010));
  });

  it('asks once for a range that is under way', async () => {
    server.behave();
    const ranges = await openHttpRanges(server.address, access());
    server.asked();
    const first = ranges.read(500_000, 200);
    // By now the request has been sent, and nothing of its answer is here.
    await new Promise((resolve) => setImmediate(resolve));
    const second = ranges.read(500_100, 50);
    expect(Buffer.from(await second)).toEqual(tile.subarray(500_100, 500_150));
    expect((await first).byteLength).toBe(200);
    expect(server.asked()).toEqual(['bytes=500000-500199']);
    // It is done, so it is asked for again: blocks are kept unpacked, bytes are not.
    await ranges.read(500_100, 50);
    expect(server.asked()).toEqual(['bytes=500100-500149']);
  });

  it('asks once for the blocks that two routes want at the same time', async () => {
    const surface = await open();
    const later = async () => {
      await new Promise((resolve) => setImmediate(resolve));
      return surface.heightsAt(LONS, LATS);
    };
    const [one, two] = await Promise.all([surface.heightsAt(LONS, LATS), later()]);
    expect(two).toEqual(one);
    const asked = server.asked();
    expect(new Set(asked).size).toBe(asked.length);
  });

  it.each(['fails', 'stalls', 'stallsInBody', 'truncates', 'otherBytes'] as const)(
    'tells of a server that %s after three attempts, and reads on once it is well again',
    async (kind) => {
      const surface = await open();
      server.misbehave(kind);
      await expect(surface.heightsAt(LONS, LATS)).rejects.toMatchObject({
        code: 'dem-unreachable',
        message: expect.stringContaining(server.address),
      });
      // Blocks ahead are asked for at the same time: three attempts each, and no more.
      const asked = server.asked();
      for (const range of new Set(asked)) expect(asked.filter((one) => one === range)).toHaveLength(3);
      server.behave();
      expect((await surface.heightsAt(LONS, LATS)).heightsM.every((height) => height !== null)).toBe(true);
      expect(surface.damaged).toBe(0);
    },
  );

  it('gets over a fault that passes', async () => {
    const surface = await open();
    server.misbehave('fails', 2);
    expect((await surface.heightsAt(LONS, LATS)).heightsM.every((height) => height !== null)).toBe(true);
  });

  it('refuses to go on when the file changes, and reads the new one at the next call', async () => {
    const surface = await open();
    const before = surface.sources[0]?.version;
    server.replace(writeTiff({ ...plan, value: () => 7 }));
    await expect(surface.heightsAt(LONS, LATS)).rejects.toMatchObject({ code: 'dem-changed' });
    expect((await surface.heightsAt(LONS, LATS)).heightsM).toEqual([7, 7, 7]);
    expect(surface.sources[0]?.version).not.toBe(before);
    server.replace(tile);
  });

  it.each([
    ['ignores ranges', 'wholeFile', /whole files only/],
    ['packs what it sends', 'packs', /packs what it sends/],
  ] as const)('refuses a server that %s', async (_, kind, why) => {
    server.misbehave(kind);
    await expect(openSurface([server.address], { remote: access() })).rejects.toMatchObject({
      code: 'dem-none',
      message: expect.stringMatching(why),
    });
  });

  it('follows a redirect to a host of the list, and to no other', async () => {
    const other = await tileServer(tile);
    server.misbehave({ redirectTo: other.address });
    await expect(openSurface([server.address], { remote: access() })).rejects.toMatchObject({
      message: expect.stringMatching(/\[dem-host\]/),
    });
    expect(other.asked()).toEqual([]);
    const surface = await openSurface([server.address], {
      remote: access({ hosts: [server.host, other.host] }),
    });
    expect((await surface.heightsAt(LONS, LATS)).heightsM[0]).toBeCloseTo(planeM(-30.3905, 46.2955), 6);
  });

  it('asks nobody who is not on the list, nor over plain http beyond this machine', async () => {
    server.behave();
    server.asked();
    for (const address of [
      server.address,
      'http://tiles.example.org/a.tif',
      'https://169.254.169.254/a.tif',
      `http://name:secret@${server.host}/a.tif`,
    ]) {
      const hosts = address === server.address ? [] : [server.host, 'tiles.example.org'];
      const error = await openSurface([address], { remote: access({ hosts }) }).catch((thrown) => thrown);
      expect(error.message).toMatch(/\[dem-host\]/);
    }
    expect(server.asked()).toEqual([]);
  });

  it.skipIf(!existsSync(DATA))(
    'costs a 12 km route on a cloud-optimised tile two requests and one a block touched (needs ../shared/data)',
    async () => {
      const path = join(DATA, 'dem-variants/whites_cog_i16_deflate_pred2_256.tif');
      const cog = await tileServer(readFileSync(path));
      const count = 600;
      const lons = Array.from({ length: count }, (_, i) => -71.4 + (0.15 * i) / count);
      const lats = Array.from({ length: count }, (_, i) => 44.2 + (0.02 * i) / count);
      const remote = await openSurface([cog.address], { remote: access({ hosts: [cog.host] }) });
      const got = (await remote.heightsAt(lons, lats)).heightsM;
      // Postings every 1/1200° from 71.75 W and 44.40 N, blocks of 256.
      const blocks = new Set(
        lons.map((lon, i) => {
          const column = Math.floor(((lon + 71.75) * 1200) / 256);
          return `${column}/${Math.floor(((44.4 - (lats[i] ?? 0)) * 1200) / 256)}`;
        }),
      );
      expect(cog.asked().length).toBeLessThanOrEqual(2 + blocks.size);
      expect(got).toEqual((await (await openSurface([path])).heightsAt(lons, lats)).heightsM);
    },
  );
});
