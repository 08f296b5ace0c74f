import { describe, expect, it } from 'vitest';
import { knownProduct } from '../../src/terrain/known-products.ts';
import { NOTHING_STATED } from '../../src/terrain/stated.ts';

describe('a name that only its publisher gives', () => {
  it.each([
    ['Copernicus_DSM_COG_10_N46_00_W122_00_DEM.tif', /^produced using Copernicus WorldDEM-30 ©/, 'EGM2008'],
    ['Copernicus_DSM_10_S03_00_E036_00_DEM.tif', /^produced using Copernicus WorldDEM-30 ©/, 'EGM2008'],
    ['Copernicus_DSM_COG_30_N46_00_W122_00_DEM.tif', /^produced using Copernicus WorldDEM-90 ©/, 'EGM2008'],
    ['USGS_13_n41w106.tif', /U\.S\. Geological Survey/, null],
    ['USGS_1_n41w106_20230314.tif', /U\.S\. Geological Survey/, null],
    ['N46E008.SRTMGL1.hgt', /SRTMGL1\.003$/, null],
    ['N46E008.SRTMGL3.hgt.zip', /SRTMGL3\.003$/, null],
    ['NASADEM_HGT_n46e008.tif', /^NASADEM .*NASADEM_HGT\.001$/, 'EGM96'],
    ['NASADEM_HGT_n46e008/n46e008.hgt', /^NASADEM .*NASADEM_HGT\.001$/, 'EGM96'],
  ])('brings the words that are asked for along: %s', (name, words, verticalReference) => {
    const stated = knownProduct(`/tiles/${name}`);
    expect(stated.attribution[0]).toMatch(words);
    expect(stated).toMatchObject({ verticalReference, licence: expect.any(String) });
    expect(knownProduct(name)).toEqual(stated);
  });

  it('says of a Copernicus set that nobody answers for its use', () => {
    const [, words] = knownProduct('Copernicus_DSM_COG_30_N46_00_W122_00_DEM.tif').attribution;
    expect(words).toMatch(/do not incur any liability for any use of the Copernicus WorldDEM-90$/);
  });
});

it.each([
  'N46E008.hgt',
  'n46e008.hgt',
  'N46E008.hgt.zip',
  'NASADEM_HGT_n46e008/n46e009.hgt',
  'my_Copernicus_DSM_COG_10_N46_00_W122_00_DEM.tif',
  'Copernicus_DSM_COG_20_N46_00_W122_00_DEM.tif',
  'USGS_1M_13_x45y512.tif',
])('credits nobody for a name that others use too: %s', (name) => {
  expect(knownProduct(`/tiles/${name}`)).toEqual(NOTHING_STATED);
});
