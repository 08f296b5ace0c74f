import type { Place } from '../../../src/earth/geodesic.ts';
import type { Track, TrackPoint } from '../../../src/ingest/track.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import { START_MS } from './recorded.ts';

// Metres a degree at 46.1 N (WGS 84): only the noise and the way of a made walk depend on it, not what is tested.
const M_PER_LAT = 111_153;
const M_PER_LON = 77_325;

export type Way = readonly (readonly [eastM: number, northM: number])[];

/** A receiver's error: spread in metres per axis, and the seconds over which it is forgotten. */
export interface Receiver {
  readonly spreadM: number;
  readonly memoryS: number;
  readonly everyS: number;
}

/** Numbers from 0 to 1 from a seed (mulberry32, public domain; from memory). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Box and Muller. */
export const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

export const lengthOfWay = (way: Way): number =>
  way.reduce(
    (sum, [x, y], i) =>
      sum + (i === 0 ? 0 : Math.hypot(x - (way[i - 1]?.[0] ?? 0), y - (way[i - 1]?.[1] ?? 0))),
    0,
  );

export const STRAIGHT: Way = [
  [0, 0],
  [6000, 0],
];

/** Legs across a slope, each a bit higher. */
export const switchbacks = (legM: number, riseM: number): Way =>
  Array.from({ length: Math.round(6000 / (legM + riseM)) + 1 }, (_, i) => [
    [i % 2 === 0 ? 0 : legM, i * riseM] as const,
    [i % 2 === 0 ? legM : 0, i * riseM + riseM / 4] as const,
  ]).flat();

/** A path that bends every 25 m or so. */
export function winding(random: () => number): Way {
  let [x, y, heading] = [0, 0, 0];
  return Array.from({ length: 240 }, () => {
    heading = 0.85 * heading + 0.35 * normal(random);
    x += 25 * Math.cos(heading);
    y += 25 * Math.sin(heading);
    return [x, y] as const;
  });
}

/** A walk along a way at 1 m/s with rests of ten minutes, as a receiver records it (errors with memory: an Ornstein-Uhlenbeck walk). */
export function jittery(way: Way, receiver: Receiver, rests: number, seed: number): Track {
  const { spreadM, memoryS, everyS } = receiver;
  const random = seeded(seed);
  const keeps = Math.exp(-everyS / memoryS);
  const fresh = () => spreadM * normal(random);
  let error = [fresh(), fresh()] as const;
  const points: TrackPoint[] = [];
  const record = (eastM: number, northM: number) => {
    const place: Place = {
      lonDeg: SOMEWHERE.lonDeg + (eastM + error[0]) / M_PER_LON,
      latDeg: SOMEWHERE.latDeg + (northM + error[1]) / M_PER_LAT,
    };
    points.push({ ...place, elevationM: null, timeMs: START_MS + points.length * everyS * 1000 });
    const moved = Math.sqrt(1 - keeps * keeps);
    error = [keeps * error[0] + moved * fresh(), keeps * error[1] + moved * fresh()];
  };
  const wholeM = lengthOfWay(way);
  let rested = 0;
  let leftM = 0;
  let walkedM = 0;
  way.forEach(([toX, toY], i) => {
    const [fromX, fromY] = way[i - 1] ?? [toX, toY];
    const legM = Math.hypot(toX - fromX, toY - fromY);
    for (; leftM < legM; leftM += everyS) {
      const [x, y] = [fromX + (leftM / legM) * (toX - fromX), fromY + (leftM / legM) * (toY - fromY)];
      record(x, y);
      if (walkedM + leftM <= ((rested + 1) * wholeM) / (rests + 1) || rested === rests) continue;
      rested += 1;
      for (let s = 0; s < 600; s += everyS) record(x, y);
    }
    leftM -= legM;
    walkedM += legM;
  });
  return { name: 'Jittery', segments: [points], waypoints: [], attributes: null, notes: [] };
}
