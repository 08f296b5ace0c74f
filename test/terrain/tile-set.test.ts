import { mkdirSync, symlinkSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { tileReport } from '../../src/terrain/tile-report.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { degrees, POINT, writeTiff } from './tiff-writer.ts';
import { planeTile, tileFolder } from './tile-folder.ts';

const files = tileFolder();
const tiff = (westDeg = -30.4) => writeTiff(planeTile(westDeg, 46.3, 0.01, 5, 5));

/** A folder with the files given, by path inside it. */
function folder(name: string, content: Readonly<Record<string, Uint8Array>>): string {
  const path = join(files.folder, name);
  mkdirSync(path, { recursive: true });
  for (const [file, bytes] of Object.entries(content)) {
    mkdirSync(join(path, file, '..'), { recursive: true });
    files.write(join(name, file), bytes);
  }
  return path;
}

describe('openSurface', () => {
  it('takes files and folders, each file once', async () => {
    const path = folder('once', { 'a.tif': tiff(), 'b.TIFF': tiff(-30.3) });
    const surface = await openSurface([join(path, 'a.tif'), path]);
    expect(surface.sources.map((tile) => basename(tile.path))).toEqual(['a.tif', 'b.TIFF']);
  });

  it('looks three folders down, and passes over hidden and unknown files', async () => {
    const path = folder('deep', {
      'a/b/c/deep.tif': tiff(),
      'a/b/c/d/deeper.tif': tiff(),
      '.hidden.tif': tiff(),
      '.cache/hidden.tif': tiff(),
      'notes.txt': Buffer.from('hello'),
    });
    symlinkSync(join(path, 'nowhere'), join(path, 'broken.tif'));
    const surface = await openSurface([path]);
    expect(surface.sources.map((tile) => basename(tile.path))).toEqual(['deep.tif']);
    expect(surface.refused).toEqual([]);
  });

  it('lists refused files with their reason and uses the others', async () => {
    const projected = { ...planeTile(-30.4, 46.3, 0.01, 5, 5), keys: { 1024: 1, 1025: 1, 3072: 3347 } };
    const path = folder('mixed', {
      'good.tif': tiff(),
      'conic.tif': writeTiff(projected),
      'N46W031.hgt': Buffer.alloc(1000),
      'N46W032.hgt.gz': Buffer.alloc(10),
    });
    const surface = await openSurface([path]);
    expect(surface.sources).toHaveLength(1);
    expect(surface.refused.map((r) => [basename(r.path), r.code])).toEqual([
      ['N46W031.hgt', 'dem-unreadable'],
      ['N46W032.hgt.gz', 'dem-unreadable'],
      ['conic.tif', 'dem-crs'],
    ]);
    expect((await surface.heightsAt([-30.38], [46.28])).heightsM[0]).not.toBe(null);
  });

  it('says why when nothing can be used', async () => {
    const path = folder('useless', { 'N46W031.hgt': Buffer.alloc(1000), 'a.tif': Buffer.from('hello') });
    await expect(openSurface([path])).rejects.toMatchObject({
      code: 'dem-none',
      message: expect.stringMatching(/N46W031\.hgt: .*1000 bytes.*a\.tif: .*TIFF/),
    });
    await expect(openSurface([folder('empty', {})])).rejects.toMatchObject({ code: 'dem-none' });
    await expect(openSurface([])).rejects.toMatchObject({ code: 'dem-none' });
    await expect(openSurface([files.write('readme.md', Buffer.from('x'))])).rejects.toMatchObject({
      code: 'dem-none',
      message: expect.stringMatching(/readme\.md: it is no elevation file/),
    });
  });

  it('says which path does not exist', async () => {
    const missing = join(files.folder, 'missing');
    await expect(openSurface([folder('there', { 'a.tif': tiff() }), missing])).rejects.toMatchObject({
      code: 'file-not-found',
      place: { file: missing },
    });
  });

  it('asks, of two tiles with the same postings, the one that states its unit first', async () => {
    const plan = planeTile(-30.4, 46.3, 0.01, 5, 5);
    const path = folder('units', {
      'a.tif': writeTiff(plan),
      'b.tif': writeTiff({ ...plan, keys: { ...degrees(POINT), 4096: 5773 } }),
    });
    const surface = await openSurface([path]);
    expect(surface.sources.map((tile) => basename(tile.path))).toEqual(['b.tif', 'a.tif']);
  });
});

describe('tileReport', () => {
  it('tells each tile’s place, posting, unit, reference, void share and notes', async () => {
    const plan = planeTile(-30.4, 46.3, 0.01, 5, 5);
    const path = folder('report', {
      'half.tif': writeTiff({
        ...plan,
        keys: { ...degrees(POINT), 4096: 5773 },
        value: (_column, row) => (row < 2 ? -9999 : 7),
      }),
    });
    const surface = await openSurface([path]);
    const [report] = await tileReport(surface);
    expect(report).toMatchObject({ columns: 5, rows: 5, unit: 'm', verticalReference: 'EGM96', notes: [] });
    expect(report?.voidShare).toBeCloseTo(0.4, 12);
    expect(report?.postingM).toBeCloseTo(1111.5, 0);
    expect(report?.northDeg).toBeCloseTo(46.3, 9);
  });

  it('calls a tile whose blocks were never written wholly void', async () => {
    const path = files.tile({ ...planeTile(-30.4, 46.3, 0.01, 5, 5), sparse: () => true });
    const [report] = await tileReport(await openSurface([path]));
    expect(report?.voidShare).toBe(1);
    expect(report?.notes.map(({ code }) => code)).toContain('dem-empty');
  });
});
