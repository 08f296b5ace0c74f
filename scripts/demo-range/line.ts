import { apartM, type Spot } from './frame.ts';
import type { Random } from './random.ts';

/** Rounds the corners of a line by cutting each twice over (Chaikin 1974, from memory); the ends stay. */
export function roundCorners(line: readonly Spot[], times: number): readonly Spot[] {
  let spots = line;
  for (let time = 0; time < times; time++) {
    const cut: Spot[] = [];
    for (const [k, spot] of spots.entries()) {
      const next = spots[k + 1];
      if (k === 0 || next === undefined) cut.push(spot);
      if (next === undefined) continue;
      if (k > 0) cut.push(between(spot, next, 0.25));
      if (k < spots.length - 2) cut.push(between(spot, next, 0.75));
    }
    spots = cut;
  }
  return spots;
}

function between(a: Spot, b: Spot, share: number): Spot {
  return { xM: a.xM + (b.xM - a.xM) * share, yM: a.yM + (b.yM - a.yM) * share };
}

/** Metres from the start of a line to each of its spots. */
export function distancesM(line: readonly Spot[]): readonly number[] {
  const along: number[] = [];
  let sum = 0;
  for (const [k, spot] of line.entries()) {
    sum += k === 0 ? 0 : apartM(line[k - 1] ?? spot, spot);
    along.push(sum);
  }
  return along;
}

/** A line's spots at the given distances (rising, metres from its start). */
export function spotsAt(line: readonly Spot[], wantedM: readonly number[]): Spot[] {
  const along = distancesM(line);
  const spots: Spot[] = [];
  let k = 1;
  for (const wanted of wantedM) {
    while (k < line.length - 1 && (along[k] ?? 0) < wanted) k++;
    const a = line[k - 1];
    const b = line[k];
    if (a === undefined || b === undefined) throw new RangeError('a line needs two spots');
    const runM = (along[k] ?? 0) - (along[k - 1] ?? 0);
    const share = runM === 0 ? 0 : (wanted - (along[k - 1] ?? 0)) / runM;
    spots.push(between(a, b, Math.max(0, Math.min(1, share))));
  }
  return spots;
}

/** Distances from 0 to `lengthM` with uneven steps between two lengths, the last one `lengthM` itself. */
export function unevenSteps(lengthM: number, leastM: number, mostM: number, random: Random): number[] {
  const steps = [0];
  let at = leastM + (mostM - leastM) * random.uniform();
  while (at < lengthM - leastM / 2) {
    steps.push(at);
    at += leastM + (mostM - leastM) * random.uniform();
  }
  steps.push(lengthM);
  return steps;
}

/** A value that wanders about 0: `spread` is its standard deviation, `reach` how long it remembers. */
export function wander(random: Random, spread: number, reach: number): (step: number) => number {
  let value = spread * random.normal();
  return (step) => {
    const keep = reach / (reach + step);
    value = keep * value + spread * Math.sqrt(1 - keep * keep) * random.normal();
    return value;
  };
}
