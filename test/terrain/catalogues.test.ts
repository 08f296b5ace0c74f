import { mkdirSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { writeTiff } from './tiff-writer.ts';
import { planeM, planeTile, tileFolder } from './tile-folder.ts';

const files = tileFolder();
const tiff = (scale = 1) =>
  writeTiff({
    ...planeTile(-30.4, 46.3, 0.01, 5, 5),
    nodata: '-9999',
    value: (column, row) => planeM(-30.4 + column * 0.01, 46.3 - row * 0.01) * scale,
  });
files.write('a.tif', tiff());
const refusal = async (path: string) =>
  openSurface([path]).then(
    () => 'used',
    (error) => error.message as string,
  );
let made = 0;
const write = (ending: string, text: string) => {
  made += 1;
  return files.write(`list${made}.${ending}`, Buffer.from(text));
};

const vrt = (band: string, root = '<VRTDataset rasterXSize="5" rasterYSize="5">') =>
  write('vrt', `${root}<VRTRasterBand dataType="Float64" band="1">${band}</VRTRasterBand></VRTDataset>`);
const source = (path: string, more = '', kind = 'SimpleSource', relative = '1') =>
  `<${kind}><SourceFilename relativeToVRT="${relative}">${path}</SourceFilename><SourceBand>1</SourceBand>${more}</${kind}>`;

describe('a VRT', () => {
  it('is read as the tiles it lists, which say themselves where they lie', async () => {
    mkdirSync(join(files.folder, 'below'));
    files.write('below/b.tif', writeTiff(planeTile(-30.3, 46.3, 0.01, 5, 5)));
    const surface = await openSurface([
      vrt(
        `<NoDataValue>-9999</NoDataValue>${source('a.tif')}${source('below/b.tif', '<NODATA>-9999</NODATA>', 'ComplexSource')}`,
      ),
    ]);
    expect(surface.sources.map(({ path }) => basename(path))).toEqual(['a.tif', 'b.tif']);
    expect((await surface.heightsAt([-30.28], [46.28])).heightsM[0]).toBeCloseTo(planeM(-30.28, 46.28), 6);
  });

  it('states unit, ratio and offset of its sources', async () => {
    files.write('tenths.tif', tiff(10));
    const more = '<ScaleOffset>5</ScaleOffset><ScaleRatio>0.1</ScaleRatio>';
    const path = vrt(`<UnitType>m</UnitType>${source('tenths.tif', more, 'ComplexSource')}`);
    const surface = await openSurface([path]);
    expect(surface.sources[0]).toMatchObject({ unit: 'm', unitAssumed: false });
    expect((await surface.heightsAt([-30.38], [46.28])).heightsM[0]).toBeCloseTo(
      planeM(-30.38, 46.28) + 5,
      6,
    );
  });

  it.each([
    ['a path into GDAL’s virtual file systems', source('/vsicurl/http://a/b.tif')],
    ['a path upwards', source('../a.tif')],
    ['a path upwards from below', source('below/../../a.tif')],
    ['an absolute path', source('/etc/a.tif')],
    ['a path of another system', source('C:\\a.tif')],
    ['an address', source('https://tiles.example.org/a.tif')],
    ['a path not relative to it', source('a.tif', '', 'SimpleSource', '0')],
  ])('is refused by name for %s', async (_, band) => {
    expect(await refusal(vrt(band))).toMatch(/names the tile .*\[dem-catalogue\]/);
  });

  it.each([
    ['warped', vrt(source('a.tif'), '<VRTDataset subClass="VRTWarpedDataset">'), /plain sources/],
    ['a filter', vrt(source('a.tif', '', 'KernelFilteredSource')), /KernelFilteredSource/],
    ['a table of values', vrt(source('a.tif', '<LUT>0:0</LUT>', 'ComplexSource')), /LUT/],
    [
      'of two bands',
      write(
        'vrt',
        `<VRTDataset><VRTRasterBand>${source('a.tif')}</VRTRasterBand><VRTRasterBand/></VRTDataset>`,
      ),
      /2 bands/,
    ],
    ['of no tile', vrt(''), /no tile/],
    [
      'with a document type',
      write('vrt', `<!DOCTYPE x [<!ENTITY a "b">]><VRTDataset/>`),
      /doctype-not-allowed/,
    ],
    ['cut short', write('vrt', '<VRTDataset><VRTRasterBand>'), /xml-malformed/],
    ['something else', write('vrt', '<gpx/>'), /VRTDataset/],
    [
      'computed',
      write(
        'vrt',
        `<VRTDataset><VRTRasterBand subClass="VRTDerivedRasterBand">${source('a.tif')}</VRTRasterBand></VRTDataset>`,
      ),
      /computes/,
    ],
  ])('is refused where it is %s', async (_, path, why) => {
    expect(await refusal(path)).toMatch(why);
  });
});

const item = (href: string, properties: object = {}, asset: object = {}) => ({
  type: 'Feature',
  stac_version: '1.0.0',
  id: `item-${href}`,
  properties: { datetime: '2021-04-22T00:00:00Z', ...properties },
  assets: { elevation: { href, type: 'image/tiff; application=geotiff', ...asset } },
});
const stac = (...items: object[]) =>
  write(
    'json',
    JSON.stringify(items.length === 1 ? items[0] : { type: 'FeatureCollection', features: items }),
  );

describe('a STAC item or collection of items', () => {
  it('carries unit, reference, licence, makers and age of its tiles', async () => {
    const properties = {
      'proj:code': 'EPSG:5498',
      license: 'CC-BY-4.0',
      providers: [
        { name: 'Marram Survey', roles: ['producer'] },
        { name: 'A Host', roles: ['host'] },
      ],
    };
    const surface = await openSurface([
      stac(item('./a.tif', properties, { 'raster:bands': [{ unit: 'm' }] })),
    ]);
    expect(surface.sources[0]).toMatchObject({
      unit: 'm',
      unitAssumed: false,
      verticalReference: 'NAVD88',
      licence: 'CC-BY-4.0',
      attribution: ['Elevation: Marram Survey'],
      dateMs: Date.UTC(2021, 3, 22),
    });
  });

  it('puts the newer of two tiles of one posting first', async () => {
    files.write('a2.tif', tiff());
    const old = item('a.tif', { datetime: '2011-01-01T00:00:00Z' });
    const surface = await openSurface([stac(old, item('a2.tif'))]);
    expect(surface.sources.map(({ path }) => basename(path))).toEqual(['a2.tif', 'a.tif']);
  });

  it.each([
    ['a path upwards', stac(item('../a.tif')), /dem-catalogue/],
    ['a host that is not on the list', stac(item('https://tiles.example.org/a.tif')), /dem-host/],
    ['another scheme', stac(item('s3://bucket/a.tif')), /dem-catalogue/],
    ['heights above the ellipsoid', stac(item('a.tif', { 'proj:epsg': 4979 })), /ellipsoid/],
    ['an unknown unit', stac(item('a.tif', { unit: 'fathom' })), /fathom/],
    ['no assets', stac({ type: 'Feature' }), /no STAC Item/],
    ['broken JSON', write('json', '{"type": '), /json-malformed/],
  ])('is refused for %s', async (_, path, why) => {
    expect(await refusal(path)).toMatch(why);
  });
});
