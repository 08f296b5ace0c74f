import { destination } from '../../src/earth/geodesic.ts';
import type { Track } from '../../src/ingest/track.ts';
import type { ElevatedTrack } from '../../src/terrain/elevated-track.ts';
import type { TileInfo } from '../../src/terrain/surface.ts';

/** Where the invented range lies. */
export const SOMEWHERE = { lonDeg: -30.2, latDeg: 46.1 };

export const FINE_TILE: TileInfo = {
  path: 'fine.tif',
  format: 'geotiff',
  crs: 'EPSG:4326',
  westDeg: -31,
  southDeg: 46,
  eastDeg: -30,
  northDeg: 47,
  columns: 10801,
  rows: 10801,
  stepLonDeg: 1 / 10800,
  stepLatDeg: 1 / 10800,
  postingM: 10,
  unit: 'm',
  unitAssumed: false,
  verticalReference: null,
  nodata: null,
  attribution: [],
  licence: null,
  dateMs: null,
  version: '1',
  notes: [],
};

export interface Drawn {
  /** Height at each station; `null`: unknown. */
  readonly heightsM: readonly (number | null)[];
  readonly spacingM?: number;
  /** Bearing of each step, degrees; one number for a straight line. */
  readonly bearingsDeg?: readonly number[] | number;
  readonly name?: string;
  readonly tile?: TileInfo;
  /** Steepness of the ground at each station on and beside the line, degrees, and above it; not known where left out. */
  readonly slopesDeg?: readonly (number | null)[];
  readonly slopesAboveDeg?: readonly (number | null)[];
  /** Clock at each station, ms. */
  readonly timeMs?: readonly (number | null)[];
}

/** A track on ideal terrain: the heights given, at equal steps along a line. */
export function elevated(drawn: Drawn): ElevatedTrack {
  const { heightsM, spacingM = 20, bearingsDeg = 90, name = 'Test line', tile = FINE_TILE } = drawn;
  const places = [SOMEWHERE];
  heightsM.slice(1).forEach((_, i) => {
    const bearing = typeof bearingsDeg === 'number' ? bearingsDeg : (bearingsDeg[i] ?? 90);
    places.push(destination(places.at(-1) ?? SOMEWHERE, bearing, spacingM));
  });
  const timeMs = drawn.timeMs ?? heightsM.map(() => null);
  const track: Track = {
    name,
    segments: [places.map((place, i) => ({ ...place, elevationM: null, timeMs: timeMs[i] ?? null }))],
    waypoints: [],
    attributes: null,
    notes: [],
  };
  const unknown = heightsM.map(() => null);
  const known = heightsM.filter((height) => height !== null).length;
  return {
    track,
    segments: [
      {
        distanceM: heightsM.map((_, i) => i * spacingM),
        lonDeg: places.map((place) => place.lonDeg),
        latDeg: places.map((place) => place.latDeg),
        groundM: heightsM,
        leftM: heightsM,
        rightM: heightsM,
        slopes: {
          onDeg: drawn.slopesDeg ?? unknown,
          besideDeg: drawn.slopesDeg ?? unknown,
          aboveDeg: drawn.slopesAboveDeg ?? unknown,
        },
        recordedM: heightsM.map(() => null),
        timeMs,
      },
    ],
    lengthM: (heightsM.length - 1) * spacingM,
    coverage: known / heightsM.length,
    sources: known > 0 ? [{ tile, share: known / heightsM.length, stretches: [] }] : [],
  };
}

/** Heights of an even climb and the way back down, 20 m between stations. */
export function upAndDown(lengthUpM: number, baseM: number, gainM: number): number[] {
  const steps = Math.round(lengthUpM / 20);
  const up = Array.from({ length: steps + 1 }, (_, i) => baseM + (gainM * i) / steps);
  return [...up, ...up.slice(0, -1).reverse()];
}

/** Bearings for the same: out east, back west. */
export function thereAndBack(heights: readonly number[]): number[] {
  const half = (heights.length - 1) / 2;
  return heights.slice(1).map((_, i) => (i < half ? 90 : 270));
}
