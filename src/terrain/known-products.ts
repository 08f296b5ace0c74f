import { basename } from 'node:path';
import { NOTHING_STATED, type Stated } from './stated.ts';

/*
 * Elevation sets that their publishers' file names give away without doubt, with what their product sheets say of every
 * tile. A name that could belong to another set (plain N44W072.hgt) is not here. A header always wins over this.
 */

interface Product {
  readonly name: RegExp;
  readonly stated: Stated;
}

// Copernicus licence for GLO-30, article 6 (b) and (c): texts fixed by the licence, word for word.
const COPERNICUS_GLO_30 = [
  'produced using Copernicus WorldDEM-30 © DLR e.V. 2010-2014 and © Airbus Defence and Space GmbH 2014-2018 provided under COPERNICUS by the European Union and ESA; all rights reserved',
  'The organisations in charge of the Copernicus programme by law or by delegation do not incur any liability for any use of the Copernicus WorldDEM-30',
];

const PRODUCTS: readonly Product[] = [
  {
    // Bucket copernicus-dem-30m: `10` is the 1″ set.
    name: /^Copernicus_DSM_(COG_)?10_[NS]\d{2}_00_[EW]\d{3}_00_DEM\.tif$/,
    stated: {
      ...NOTHING_STATED,
      unit: 'm',
      verticalReference: 'EGM2008',
      attribution: COPERNICUS_GLO_30,
      licence: 'Copernicus GLO-30 licence',
    },
  },
  {
    // Staged products of the USGS: 1/3″ (13), 1″ (1) and 2″ (2), current and dated.
    name: /^USGS_(13|1|2)_[ns]\d{2}[ew]\d{3}(_\d{8})?\.tif$/,
    stated: {
      ...NOTHING_STATED,
      unit: 'm',
      // The same name stands for Alaska, Hawaii and the islands, which have references of their own.
      verticalReference: null,
      // The wording that the USGS asks for.
      attribution: [
        'Map services and data available from U.S. Geological Survey, National Geospatial Program.',
      ],
      licence: 'public domain',
    },
  },
  {
    // NASA SRTM v3 as LP DAAC names it.
    name: /^[NS]\d{2}[EW]\d{3}\.SRTMGL[13]\.hgt(\.zip)?$/,
    stated: {
      ...NOTHING_STATED,
      attribution: ['NASA Shuttle Radar Topography Mission (SRTM) version 3, NASA LP DAAC'],
      licence: 'public domain',
    },
  },
];

/** What a tile's name says of it; nothing where the name is not a publisher's own. */
export function knownProduct(path: string): Stated {
  const name = basename(path);
  return PRODUCTS.find((product) => product.name.test(name))?.stated ?? NOTHING_STATED;
}
