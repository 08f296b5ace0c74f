/**
 * Invented trails whose climb is known, and what the product sees of them: tiles with their published error, and a
 * line as a receiver or a map gives it. What the gain is checked against.
 */

import { localScale } from '../../src/earth/local-scale.ts';
import type { Track } from '../../src/ingest/track.ts';
import { turningPoints } from '../../src/route/turning-points.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import type { Random } from '../demo-range/random.ts';
import { gaussian } from './pace-worlds.ts';

/** A place on the plane, metres east and north. */
interface Spot {
  readonly x: number;
  readonly y: number;
}

export type TrailKind = 'climb' | 'rolls' | 'bank' | 'noisy climb';
export const TRAIL_KINDS: readonly TrailKind[] = ['climb', 'rolls', 'bank', 'noisy climb'];

/** A tile: postings so many seconds of arc apart; its published vertical error, root mean square, metres. */
export interface Dem {
  readonly name: string;
  readonly arcSec: number;
  readonly errorM: number;
}

/** 3DEP 1/3″ (OFR 2014-1008), SRTM and GLO-30 1″ (web study, 138 M marks), SRTM 3″ (specification). */
export const DEMS: readonly Dem[] = [
  { name: '1/3″', arcSec: 1 / 3, errorM: 1.55 },
  { name: '1″', arcSec: 1, errorM: 4.36 },
  { name: '3″', arcSec: 3, errorM: 9.73 },
];

export interface Trail {
  readonly trueGainM: number;
  /** Where the trail truly turns up or down, its ends too: longitudes, latitudes. */
  readonly turnsDeg: readonly (readonly [number, number])[];
  readonly track: Track;
  readonly surface: Surface;
}

const between = (random: Random, low: number, high: number): number => low + (high - low) * random.uniform();

/** Height and gradient at a place. */
type GroundAt = (spot: Spot) => { readonly z: number; readonly gx: number; readonly gy: number };

interface Waves {
  readonly count: number;
  readonly shortestM: number;
  readonly longestM: number;
  /** Spread of the slope that all waves together make, rise over run. */
  readonly slope: number;
}

/** A plane that rises northwards with a sum of waves on it, each as steep as the next: smooth, and rough at all scales. */
function groundOf(random: Random, rise: number, waves: Waves): GroundAt {
  const { count, shortestM, longestM, slope } = waves;
  const each = Array.from({ length: count }, () => {
    const lengthM = shortestM * (longestM / shortestM) ** random.uniform();
    const k = (2 * Math.PI) / lengthM;
    const bearing = 2 * Math.PI * random.uniform();
    // A wave of height a has a slope spread of a·k/√2.
    return {
      a: (slope * Math.SQRT2) / Math.sqrt(count) / k,
      kx: k * Math.cos(bearing),
      ky: k * Math.sin(bearing),
      phase: 2 * Math.PI * random.uniform(),
    };
  });
  return ({ x, y }) => {
    let z = 1000 + rise * y;
    let gx = 0;
    let gy = rise;
    for (const { a, kx, ky, phase } of each) {
      const at = kx * x + ky * y + phase;
      z += a * Math.sin(at);
      const c = a * Math.cos(at);
      gx += c * kx;
      gy += c * ky;
    }
    return { z, gx, gy };
  };
}

const STEP_M = 5;
/** A trail turns by no more than this in a step: a hairpin of about 5 m (design). */
const MOST_TURN = Math.PI / 3;

/** A trail that is this far from the height asked of it over this length has met a top, and would turn about on it for ever. */
const LOST_M = 8;
const LOST_OVER_M = 100;

/**
 * Grows a trail that keeps the grade asked for by choosing its bearing, as a trail is built; hairpins where told.
 * `null`: the ground has a top in the way, on which no such trail can be built.
 */
function grown(
  ground: GroundAt,
  lengthM: number,
  gradeAt: (m: number) => number,
  legM: () => number,
): Spot[] | null {
  const spots: Spot[] = [{ x: 0, y: 0 }];
  const behindM: number[] = [];
  let askedM = 0;
  let side = 1;
  let turnAtM = legM();
  let bearing: number | null = null;
  for (let m = 0; m < lengthM; m += STEP_M) {
    if (m >= turnAtM) {
      side = -side;
      turnAtM = m + legM();
    }
    const here = spots.at(-1) ?? { x: 0, y: 0 };
    const { z, gx, gy } = ground(here);
    behindM.push(askedM - z);
    const before = behindM[behindM.length - 1 - LOST_OVER_M / STEP_M];
    if (before !== undefined && Math.abs(askedM - z - before) > LOST_M) return null;
    askedM += STEP_M * gradeAt(m);
    const share = Math.min(1, Math.max(-1, gradeAt(m) / Math.max(1e-9, Math.hypot(gx, gy))));
    const wanted = Math.atan2(gy, gx) + side * Math.acos(share);
    let turn: number = bearing === null ? 0 : wanted - bearing;
    turn -= 2 * Math.PI * Math.round(turn / (2 * Math.PI));
    bearing = bearing === null ? wanted : bearing + Math.min(MOST_TURN, Math.max(-MOST_TURN, turn));
    spots.push({ x: here.x + STEP_M * Math.cos(bearing), y: here.y + STEP_M * Math.sin(bearing) });
  }
  return spots;
}

/** A way across country on a bearing that wanders. */
function wandering(random: Random, lengthM: number): Spot[] {
  const spots: Spot[] = [{ x: 0, y: 0 }];
  const bends = Array.from({ length: 4 }, () => ({
    lengthM: between(random, 300, 2500),
    size: between(random, 0.1, 0.5),
    phase: 2 * Math.PI * random.uniform(),
  }));
  for (let m = 0; m < lengthM; m += STEP_M) {
    const here = spots.at(-1) ?? { x: 0, y: 0 };
    const bearing = bends.reduce(
      (sum, bend) => sum + bend.size * Math.sin((2 * Math.PI * m) / bend.lengthM + bend.phase),
      0,
    );
    spots.push({ x: here.x + STEP_M * Math.cos(bearing), y: here.y + STEP_M * Math.sin(bearing) });
  }
  return spots;
}

interface Walk {
  readonly ground: GroundAt;
  readonly spots: readonly Spot[];
}

function climbing(random: Random): Walk | null {
  const rise = Math.tan((between(random, 20, 36) * Math.PI) / 180);
  const ground = groundOf(random, rise, {
    count: 24,
    shortestM: 80,
    longestM: 3000,
    slope: between(random, 0.1, 0.25),
  });
  const lengthM = between(random, 3000, 7000);
  const grade = between(random, 0.1, 0.2);
  // None to two places where the trail loses height again, 10 to 40 m.
  const dips = Array.from({ length: Math.floor(3 * random.uniform()) }, () => {
    const dipM = between(random, 10, 40);
    const atM = between(random, 0.1, 0.9) * lengthM;
    return { fromM: atM, toM: atM + dipM / 0.12 };
  });
  const gradeAt = (m: number) =>
    dips.some(({ fromM, toM }) => m >= fromM && m < toM) ? -0.12 : grade * (1 + 0.4 * Math.sin(m / 180));
  const spots = grown(ground, lengthM, gradeAt, () => between(random, 150, 900));
  return spots && { ground, spots };
}

function rolling(random: Random): Walk {
  const ground = groundOf(random, between(random, 0, 0.03), {
    count: 20,
    shortestM: 250,
    longestM: 3000,
    slope: between(random, 0.08, 0.16),
  });
  return { ground, spots: wandering(random, between(random, 5000, 10_000)) };
}

function acrossBank(random: Random): Walk | null {
  const rise = Math.tan((between(random, 25, 38) * Math.PI) / 180);
  const ground = groundOf(random, rise, {
    count: 24,
    shortestM: 80,
    longestM: 2000,
    slope: between(random, 0.1, 0.25),
  });
  const lengthM = between(random, 3000, 6000);
  const waveM = between(random, 600, 2500);
  const grade = between(random, 0.01, 0.06);
  const gradeAt = (m: number) => grade * Math.sin((2 * Math.PI * m) / waveM);
  const spots = grown(ground, lengthM, gradeAt, () => Number.POSITIVE_INFINITY);
  return spots && { ground, spots };
}

/** An error that fades over `reachM` of way (first-order Gauss–Markov). */
function wander(random: Random, spreadM: number, reachM: number): (stepM: number) => number {
  let error = spreadM * gaussian(random);
  return (stepM) => {
    const keep = Math.exp(-stepM / reachM);
    error = keep * error + spreadM * Math.sqrt(1 - keep * keep) * gaussian(random);
    return error;
  };
}

/** Points of the trail every `everyM` metres, and its end, each off by the error given. */
function lineOf(spots: readonly Spot[], everyM: number, errors: (stepM: number) => Spot): Spot[] {
  const every = Math.max(1, Math.round(everyM / STEP_M));
  return spots
    .filter((_, i) => i % every === 0 || i === spots.length - 1)
    .map(({ x, y }) => {
      const error = errors(every * STEP_M);
      return { x: x + error.x, y: y + error.y };
    });
}

/** Sideways errors, metres an axis: a receiver under open sky, or hand-drawn on a map; and a receiver in a bad place. */
function seenLine(random: Random, spots: readonly Spot[], isNoisy: boolean): Spot[] {
  const receiver = (spreadM: number, reachM: number, whiteM: number) => {
    const x = wander(random, spreadM, reachM);
    const y = wander(random, spreadM, reachM);
    return (stepM: number) => ({
      x: x(stepM) + whiteM * gaussian(random),
      y: y(stepM) + whiteM * gaussian(random),
    });
  };
  if (isNoisy) return lineOf(spots, 10, receiver(between(random, 7, 14), 60, 2));
  return random.uniform() < 0.5
    ? lineOf(spots, between(random, 5, 20), receiver(between(random, 3, 5), 150, 0.7))
    : lineOf(spots, between(random, 25, 60), receiver(between(random, 3, 7), 100, 0));
}

/** The published error of a tile as two random fields of equal size: one of kilometres, one of a few postings (from memory of Rodriguez 2006 on SRTM). */
const LONG_ERROR_M = 2000;
const SHORT_ERROR_POSTINGS = 3;
const WAVES_OF_ERROR = 16;

const HOME = { lonDeg: 8.5, latDeg: 46 };

/** The tile as a `Surface`: means of the ground over each cell, with the tile's error; bilinear between postings. */
function surfaceOf(ground: GroundAt, dem: Dem, random: Random): Surface {
  const { mPerDegLat, mPerDegLon } = localScale(HOME.latDeg);
  const stepDeg = dem.arcSec / 3600;
  const dx = stepDeg * mPerDegLon;
  const dy = stepDeg * mPerDegLat;
  const field = (lengthM: number) => {
    // Waves of about this length; slope chosen so that heights have the spread asked for.
    const waves = Array.from({ length: WAVES_OF_ERROR }, () => {
      const k = (2 * Math.PI) / (lengthM * between(random, 0.7, 1.6));
      const bearing = 2 * Math.PI * random.uniform();
      return { kx: k * Math.cos(bearing), ky: k * Math.sin(bearing), phase: 2 * Math.PI * random.uniform() };
    });
    const a = (dem.errorM * Math.SQRT1_2 * Math.SQRT2) / Math.sqrt(WAVES_OF_ERROR);
    return (x: number, y: number) =>
      a * waves.reduce((sum, { kx, ky, phase }) => sum + Math.sin(kx * x + ky * y + phase), 0);
  };
  const long = field(LONG_ERROR_M);
  // A wave of six postings: three from high to low.
  const short = field(2 * SHORT_ERROR_POSTINGS * dy);
  const cell = dem.arcSec > 1 ? [-1 / 3, 0, 1 / 3] : [0];
  const known = new Map<number, number>();
  const posting = (c: number, r: number): number => {
    const key = c * 1e6 + r;
    const before = known.get(key);
    if (before !== undefined) return before;
    let sum = 0;
    for (const u of cell) for (const v of cell) sum += ground({ x: (c + u) * dx, y: (r + v) * dy }).z;
    const z = sum / cell.length ** 2 + long(c * dx, r * dy) + short(c * dx, r * dy);
    known.set(key, z);
    return z;
  };
  const height = (lonDeg: number, latDeg: number): number => {
    const c = (lonDeg - HOME.lonDeg) / stepDeg;
    const r = (latDeg - HOME.latDeg) / stepDeg;
    const [c0, r0] = [Math.floor(c), Math.floor(r)];
    const [u, v] = [c - c0, r - r0];
    return (
      (posting(c0, r0) * (1 - u) + posting(c0 + 1, r0) * u) * (1 - v) +
      (posting(c0, r0 + 1) * (1 - u) + posting(c0 + 1, r0 + 1) * u) * v
    );
  };
  return {
    sources: [
      {
        path: `invented ${dem.name}`,
        format: 'geotiff',
        crs: 'EPSG:4326',
        westDeg: HOME.lonDeg - 1,
        southDeg: HOME.latDeg - 1,
        eastDeg: HOME.lonDeg + 1,
        northDeg: HOME.latDeg + 1,
        columns: 1,
        rows: 1,
        stepLonDeg: stepDeg,
        stepLatDeg: stepDeg,
        postingM: dy,
        unit: 'm',
        unitAssumed: false,
        verticalReference: 'EGM96',
        nodata: null,
        version: 'invented',
        attribution: [],
        licence: null,
        dateMs: null,
        notes: [],
      },
    ],
    refused: [],
    damaged: 0,
    heightsAt: async (lons, lats) => ({
      heightsM: Array.from(lons, (lon, i) => height(lon, lats[i] ?? 0)),
      sourceIndexes: Array.from(lons, () => 0),
    }),
    voidShare: async () => 0,
    close: async () => {},
  };
}

function placeOf({ x, y }: Spot): { lonDeg: number; latDeg: number } {
  const { mPerDegLat, mPerDegLon } = localScale(HOME.latDeg);
  return { lonDeg: HOME.lonDeg + x / mPerDegLon, latDeg: HOME.latDeg + y / mPerDegLat };
}

function trackOf(name: string, line: readonly Spot[]): Track {
  const points = line.map((spot) => ({ ...placeOf(spot), elevationM: null, timeMs: null }));
  return { name, segments: [points], waypoints: [], attributes: null, notes: [] };
}

/** A true turn of the trail is at least this high. */
const LEAST_TURN_M = 2;

/** A trail of a kind: its true climb, and the tile and line that the product sees. */
export function trailOf(kind: TrailKind, dem: Dem, random: Random): Trail {
  const draw = kind === 'rolls' ? rolling : kind === 'bank' ? acrossBank : climbing;
  let walk = draw(random);
  while (walk === null) walk = draw(random);
  const { ground, spots } = walk;
  const heightsM = spots.map((spot) => ground(spot).z);
  const riseM = (from: number, to: number): number => (heightsM[to] ?? 0) - (heightsM[from] ?? 0);
  const trueGainM = heightsM.reduce((sum, _, i) => (i > 0 ? sum + Math.max(0, riseM(i - 1, i)) : 0), 0);
  const turns = turningPoints(heightsM, (from, to) => Math.abs(riseM(from, to)) >= LEAST_TURN_M);
  return {
    trueGainM,
    turnsDeg: turns.map((turn) => {
      const { lonDeg, latDeg } = placeOf(spots[turn] ?? { x: 0, y: 0 });
      return [lonDeg, latDeg] as const;
    }),
    track: trackOf(kind, seenLine(random, spots, kind === 'noisy climb')),
    surface: surfaceOf(ground, dem, random),
  };
}
