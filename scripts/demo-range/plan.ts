import { COLUMN_M, COLUMNS, ROW_M, ROWS } from './frame.ts';
import { fractalNoise, ridgedNoise } from './noise.ts';
import { square } from './square.ts';

interface Bump {
  readonly eastKm: number;
  readonly southKm: number;
  readonly heightM: number;
  readonly spreadKm: number;
}

// Where the range was pushed up most: the seeds of the named summits. Invented.
const PEAKS: readonly Bump[] = [
  { eastKm: 18.6, southKm: 11.4, heightM: 1700, spreadKm: 1.9 },
  { eastKm: 22.8, southKm: 9.6, heightM: 1900, spreadKm: 1.7 },
  { eastKm: 13.9, southKm: 13.3, heightM: 1300, spreadKm: 1.6 },
  { eastKm: 26.0, southKm: 12.8, heightM: 1250, spreadKm: 1.5 },
  { eastKm: 9.8, southKm: 11.0, heightM: 900, spreadKm: 1.5 },
  { eastKm: 18.2, southKm: 16.4, heightM: 650, spreadKm: 1.3 },
  { eastKm: 16.6, southKm: 7.4, heightM: 650, spreadKm: 1.3 },
];

// High benches of hard rock that the rivers have not yet cut through. Invented.
const BENCHES: readonly Bump[] = [
  { eastKm: 21.9, southKm: 14.4, heightM: 2150, spreadKm: 1.6 },
  { eastKm: 12.4, southKm: 8.6, heightM: 2080, spreadKm: 1.6 },
  { eastKm: 27.6, southKm: 9.6, heightM: 1950, spreadKm: 1.4 },
  { eastKm: 8.2, southKm: 14.4, heightM: 1650, spreadKm: 1.4 },
];

// Lines of the main valleys from their heads to the sea: [km east, km south, height of the floor]. Invented.
const VALLEYS: readonly (readonly (readonly [number, number, number])[])[] = [
  // south: Ladle Water
  [
    [16.4, 13.6, 1750],
    [15.9, 16.6, 1150],
    [16.8, 19.6, 520],
    [18.2, 23.4, 0],
  ],
  // south-west: Tarpot Beck
  [
    [11.6, 12.6, 1600],
    [9.6, 14.6, 1150],
    [6.8, 16.6, 520],
    [3.2, 18.4, 0],
  ],
  // north: Drift Water
  [
    [15.2, 10.3, 1750],
    [13.6, 6.9, 1150],
    [13.2, 4.0, 480],
    [13.6, 0.6, 0],
  ],
  // north-east: Cistern Beck
  [
    [20.6, 10.4, 1750],
    [20.4, 7.4, 1250],
    [21.6, 4.4, 560],
    [23.6, 0.8, 0],
  ],
  // east: Smokehouse Water
  [
    [22.6, 11.9, 1700],
    [25.4, 11.0, 1200],
    [29.2, 11.4, 480],
    [33.0, 11.0, 0],
  ],
  // south-east: Plover Beck
  [
    [20.2, 15.4, 1600],
    [22.6, 17.2, 1000],
    [25.4, 18.0, 420],
    [27.4, 20.4, 0],
  ],
  // west: Kelp Beck
  [
    [11.4, 10.2, 1700],
    [8.4, 9.2, 1050],
    [5.0, 8.0, 420],
    [1.6, 6.4, 0],
  ],
];

const WIDTH_KM = ((COLUMNS - 1) * COLUMN_M) / 1000;
const HEIGHT_KM = ((ROWS - 1) * ROW_M) / 1000;

/** Smooth step down from 1 at the middle of a bump to 0 at twice its spread. */
function swell(bump: Bump, eastKm: number, southKm: number): number {
  const r2 = (square(eastKm - bump.eastKm) + square(southKm - bump.southKm)) / (4 * square(bump.spreadKm));
  return r2 >= 1 ? 0 : square(1 - r2);
}

/** How far inside the coast a place lies: 0 and below is sea, about 1 is the middle of the island. */
export function inland(eastKm: number, southKm: number, seed: number): number {
  const u = (eastKm - WIDTH_KM / 2) / (WIDTH_KM / 2 - 0.8);
  const v = (southKm - HEIGHT_KM / 2) / (HEIGHT_KM / 2 - 0.8);
  const bays = fractalNoise(eastKm / 7, southKm / 7, seed, 6, 0.55);
  return 1 - square(u) - square(v) - 0.75 * Math.max(0, bays + 0.12);
}

/** Height of the ground before the rivers cut it, metres. */
export function plannedHeightM(eastKm: number, southKm: number, seed: number): number {
  const inside = Math.max(0, inland(eastKm, southKm, seed));
  const rise = square(inside) / (inside + 0.12);
  let sum = 2500 * rise + 60 * Math.min(1, inside * 8);
  const hills = fractalNoise(eastKm / 5, southKm / 5, seed + 40, 5);
  const crests = ridgedNoise(eastKm / 4.5 + hills / 3, southKm / 4.5 - hills / 3, seed + 50, 4) - 0.45;
  sum += Math.min(1, 3 * inside) * (420 * hills + 900 * crests);
  for (const peak of PEAKS) sum += peak.heightM * swell(peak, eastKm, southKm);
  for (const bench of BENCHES) {
    const share = Math.min(1, 2 * swell(bench, eastKm, southKm));
    sum = sum * (1 - 0.75 * share) + 0.75 * share * bench.heightM;
  }
  const limitM = valleyLimitM(eastKm, southKm, seed);
  // Smooth lesser of the two over 300 m, so that the valley's lip is a shoulder rather than an edge.
  const blend = Math.max(0, Math.min(1, 0.5 + (sum - limitM) / 600));
  return Math.max(2, sum + (limitM - sum) * blend - 150 * blend * (1 - blend));
}

/** Height that the nearest planned valley leaves standing at a place, metres: its floor, and a curve up its sides. */
function valleyLimitM(eastKm: number, southKm: number, seed: number): number {
  const bendKm = 1.1;
  const east = eastKm + bendKm * fractalNoise(eastKm / 2.5, southKm / 2.5, seed + 70, 4);
  const south = southKm + bendKm * fractalNoise(eastKm / 2.5, southKm / 2.5, seed + 75, 4);
  let limitM = 9000;
  for (const valley of VALLEYS) {
    for (let k = 1; k < valley.length; k++) {
      const [e0, s0, z0] = valley[k - 1] ?? [0, 0, 0];
      const [e1, s1, z1] = valley[k] ?? [0, 0, 0];
      const along =
        ((east - e0) * (e1 - e0) + (south - s0) * (s1 - s0)) / (square(e1 - e0) + square(s1 - s0));
      const t = Math.max(0, Math.min(1, along));
      const apart2 = square(east - e0 - t * (e1 - e0)) + square(south - s0 - t * (s1 - s0));
      limitM = Math.min(limitM, z0 + t * (z1 - z0) + 420 * apart2 + 160 * Math.sqrt(apart2));
    }
  }
  return limitM;
}

/** How readily water cuts the ground: benches hard, bands of soft rock between. */
export function softness(eastKm: number, southKm: number, seed: number): number {
  let hard = 0;
  for (const bench of BENCHES) hard = Math.max(hard, Math.min(1, 2 * swell(bench, eastKm, southKm)));
  const bands = 1 + 0.7 * fractalNoise(eastKm / 2.4, southKm / 2.4, seed + 60, 4);
  return Math.max(0.25, bands) * (1 - 0.6 * hard);
}

/** The steepest a slope stands: scree mostly, cliffs where the rock is sound. */
export function slopeLimit(eastKm: number, southKm: number, seed: number): number {
  const scree = fractalNoise(eastKm / 3, southKm / 3, seed + 90, 4);
  const sound = fractalNoise(eastKm / 1.6, southKm / 1.6, seed + 80, 3);
  let summit = 0;
  for (const peak of PEAKS) summit = Math.max(summit, swell(peak, eastKm, southKm));
  return 0.64 + 0.22 * scree + 1.3 * Math.max(0, sound - 0.15) + 0.45 * summit;
}
