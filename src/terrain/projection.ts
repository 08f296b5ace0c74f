import proj4 from 'proj4';

/*
 * The only file that knows proj4. Datums that agree within 1–2 m on the ground (WGS 84, NAD83, ETRS89) count as one, as
 * for tiles in degrees: the projections are given by ellipsoid alone, so that nothing is shifted.
 */

/** From degrees to a tile's own plane and back; metres. */
export interface Projection {
  /** `[x, y]`; not finite where the place cannot be drawn. */
  forward(lonDeg: number, latDeg: number): readonly [number, number];
  /** `[lonDeg, latDeg]`. */
  inverse(x: number, y: number): readonly [number, number];
}

interface UtmSeries {
  readonly first: number;
  readonly zones: readonly [from: number, to: number];
  readonly ellipsoid: 'WGS84' | 'GRS80';
  readonly south?: true;
}

// EPSG registry: code = first + zone. WGS 84 north and south, NAD83, ETRS89.
const UTM: readonly UtmSeries[] = [
  { first: 32600, zones: [1, 60], ellipsoid: 'WGS84' },
  { first: 32700, zones: [1, 60], ellipsoid: 'WGS84', south: true },
  { first: 26900, zones: [1, 23], ellipsoid: 'GRS80' },
  { first: 25800, zones: [28, 38], ellipsoid: 'GRS80' },
];

// EPSG registry, 3857 (spherical, on WGS 84 coordinates) and 3035 (ETRS89 equal area).
const OTHERS: Readonly<Record<number, string>> = {
  3857: '+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +units=m',
  3035: '+proj=laea +lat_0=52 +lon_0=10 +x_0=4321000 +y_0=3210000 +ellps=GRS80 +units=m',
};

function definition(epsg: number): string | null {
  for (const { first, zones, ellipsoid, south } of UTM) {
    const zone = epsg - first;
    if (zone >= zones[0] && zone <= zones[1])
      return `+proj=utm +zone=${zone}${south ? ' +south' : ''} +ellps=${ellipsoid} +units=m`;
  }
  return OTHERS[epsg] ?? null;
}

const known = new Map<number, Projection>();

/** The projection of an EPSG code; `null` where it is none that is read. */
export function projectionOf(epsg: number): Projection | null {
  const held = known.get(epsg);
  if (held !== undefined) return held;
  const text = definition(epsg);
  if (text === null) return null;
  const projector = proj4.Proj(text);
  const made: Projection = {
    forward(lonDeg, latDeg) {
      const { x, y } = projector.forward({ x: lonDeg * RAD, y: latDeg * RAD });
      return [x, y];
    },
    inverse(x, y) {
      const place = projector.inverse({ x, y });
      return [place.x / RAD, place.y / RAD];
    },
  };
  known.set(epsg, made);
  return made;
}

const RAD = Math.PI / 180;

/** The projection of a tile by its `crs`; `null` where its grid is in degrees. */
export function projectionOfCrs(crs: string): Projection | null {
  return projectionOf(Number(crs.slice('EPSG:'.length)));
}
