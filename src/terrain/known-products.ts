import { NOTHING_STATED, type Stated } from './stated.ts';

/*
 * Elevation sets that their publishers' file names give away without doubt, with what their product sheets say of every
 * tile. A name that could belong to another set is not here: N44W072.hgt and n44w072.hgt are used for SRTM, for NASADEM
 * and for sets of others that fill or replace them, so their heights are credited to nobody unless
 * `krummholz-dem.json` does. A header always wins over this.
 */

interface Product {
  /** Of the last two parts of a path, with `/` between them. */
  readonly name: RegExp;
  readonly stated: Stated;
}

/**
 * The notices that the licence of a Copernicus set fixes word for word, article 6 (b) and (c). The text of GLO-90's
 * licence is that of GLO-30's with the other name; taken from works that quote it, not from the licence itself.
 */
const copernicus = (set: string, name: string): Stated => ({
  ...NOTHING_STATED,
  unit: 'm',
  verticalReference: 'EGM2008',
  attribution: [
    `produced using Copernicus ${set} © DLR e.V. 2010-2014 and © Airbus Defence and Space GmbH 2014-2018 provided under COPERNICUS by the European Union and ESA; all rights reserved`,
    `The organisations in charge of the Copernicus programme by law or by delegation do not incur any liability for any use of the Copernicus ${set}`,
  ],
  licence: `Copernicus ${name} licence`,
});

/** Of a set without conditions whose publisher asks to be cited: a courtesy. */
const publicDomain = (attribution: string): Stated => ({
  ...NOTHING_STATED,
  attribution: [attribution],
  licence: 'public domain',
});

const PRODUCTS: readonly Product[] = [
  // Buckets copernicus-dem-30m and copernicus-dem-90m: `10` is the 1″ set, `30` the 3″ set.
  ...(['30', '90'] as const).map((set) => ({
    name: new RegExp(
      `(^|/)Copernicus_DSM_(COG_)?${set === '30' ? 10 : 30}_[NS]\\d{2}_00_[EW]\\d{3}_00_DEM\\.tif$`,
    ),
    stated: copernicus(`WorldDEM-${set}`, `GLO-${set}`),
  })),
  {
    // Staged products of the USGS: 1/3″ (13), 1″ (1) and 2″ (2), current and dated. The credit is its own wording. No
    // vertical reference: the same name stands for Alaska, Hawaii and the islands, which have others.
    name: /(^|\/)USGS_(13|1|2)_[ns]\d{2}[ew]\d{3}(_\d{8})?\.tif$/,
    stated: {
      ...publicDomain(
        'Map services and data available from U.S. Geological Survey, National Geospatial Program.',
      ),
      unit: 'm',
    },
  },
  // NASA SRTM v3 as LP DAAC names it. NASA sets no conditions and asks for the DOI (from memory).
  ...['SRTMGL1', 'SRTMGL3'].map((set) => ({
    name: new RegExp(`(^|/)[NS]\\d{2}[EW]\\d{3}\\.${set}\\.hgt(\\.zip|\\.gz)?$`),
    stated: publicDomain(
      `NASA Shuttle Radar Topography Mission (SRTM) version 3, NASA LP DAAC, https://doi.org/10.5067/MEaSUREs/SRTM/${set}.003`,
    ),
  })),
  {
    // NASADEM: as GeoTIFF under its granule's name, or unpacked into a folder of that name. DOI from memory, as above.
    name: /(^|\/)NASADEM_HGT_([ns]\d{2}[ew]\d{3})(\.tif|\/\2\.hgt)$/,
    stated: {
      ...publicDomain(
        'NASADEM Merged DEM Global 1 arc second V001, NASA LP DAAC, https://doi.org/10.5067/MEaSUREs/NASADEM/NASADEM_HGT.001',
      ),
      unit: 'm',
      verticalReference: 'EGM96',
    },
  },
];

/** What a tile's name says of it; nothing where the name is not a publisher's own. */
export function knownProduct(path: string): Stated {
  const name = path.split(/[\\/]/).slice(-2).join('/');
  return PRODUCTS.find((product) => product.name.test(name))?.stated ?? NOTHING_STATED;
}
