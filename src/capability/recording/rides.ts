import { at, last } from '../../array.ts';
import type { Design } from '../../design.ts';
import { stepM } from '../../ingest/step-length.ts';
import type { TrackPoint } from '../../ingest/track.ts';
import { MS_PER_MIN } from '../../units.ts';
import { isRidden } from './gaps.ts';
import { type Fix, firstMs, fixesOf, type Line, lastMs, lengthM, thinned } from './line.ts';
import type { Stop } from './stops.ts';

/** Speeds are taken over steps of at least this length: a receiver's jitter is small against it (design). */
const STEP_S = 15;

interface Step {
  readonly from: Fix;
  readonly to: Fix;
  readonly seconds: number;
  readonly speedMs: number;
}

type Span = Pick<Stop, 'from' | 'to'>;

/** The middle of the values by weight: half of it lies at or below. */
function weightedMedian(values: readonly { readonly value: number; readonly weight: number }[]): number {
  const sorted = values.toSorted((a, b) => a.value - b.value);
  const half = sorted.reduce((sum, { weight }) => sum + weight, 0) / 2;
  let passed = 0;
  for (const { value, weight } of sorted) {
    passed += weight;
    if (passed >= half) return value;
  }
  return 0;
}

/** Speed over the window around a step: the middle one, which a bad fix does not move; and height a second. */
function aroundStep(steps: readonly Step[], k: number, windowS: number): { speedMs: number; riseMs: number } {
  const middleMs = (at(steps, k).from.timeMs + at(steps, k).to.timeMs) / 2;
  const overlap = (step: Step | undefined) =>
    step === undefined
      ? 0
      : Math.min(step.to.timeMs, middleMs + windowS * 500) -
        Math.max(step.from.timeMs, middleMs - windowS * 500);
  let low = k;
  let high = k;
  while (overlap(steps[low - 1]) > 0) low -= 1;
  while (overlap(steps[high + 1]) > 0) high += 1;
  const inside = steps.slice(low, high + 1);
  const speedMs = weightedMedian(inside.map((step) => ({ value: step.speedMs, weight: overlap(step) })));
  const { from } = at(inside, 0);
  const { to } = last(inside);
  const seconds = (to.timeMs - from.timeMs) / 1000;
  const lowM = from.point.elevationM;
  const highM = to.point.elevationM;
  // Over less than half of the window the error of recorded heights would make a lift of a stair.
  const isKnown = lowM !== null && highM !== null && seconds >= windowS / 2;
  return { speedMs, riseMs: isKnown ? (highM - lowM) / seconds : 0 };
}

/** The ridden stretches of one segment: first and last point of each, counted in the segment. */
function ridesOf(points: readonly TrackPoint[], limits: Design['recording']): Span[] {
  const fixes = fixesOf([points]);
  const sparse = thinned(fixes, STEP_S);
  const steps = sparse.slice(1).flatMap((to, i): Step[] => {
    const from = sparse[i];
    if (from === undefined) return [];
    const seconds = (to.timeMs - from.timeMs) / 1000;
    return [{ from, to, seconds, speedMs: stepM(from.point, to.point) / seconds }];
  });
  const around = steps.map((_, k) => aroundStep(steps, k, limits.windowS));
  const isRide = ({ speedMs, riseMs }: { speedMs: number; riseMs: number }) =>
    speedMs > limits.rideMs || riseMs > limits.liftUpMs || riseMs < -limits.liftDownMs;
  const stillRides = (k: number) => at(around, k).speedMs > limits.walkMostMs;

  const found: Span[] = [];
  for (let k = 0; k < steps.length; k += 1) {
    if (!isRide(at(around, k))) continue;
    let first = k;
    while (first > 0 && stillRides(first - 1)) first -= 1;
    while (k + 1 < steps.length && (stillRides(k + 1) || isRide(at(around, k + 1)))) k += 1;
    const start = at(steps, first).from;
    const ridden = steps.slice(first, k + 1);
    const isFar = ({ to }: Step) => stepM(start.point, to.point) >= limits.leastRideM;
    if (ridden.some(isFar)) found.push(edges(fixes, steps, { from: first, to: k }, limits.walkMostMs));
  }
  return joined([...found, ...riddenHoles(fixes, limits)]);
}

/** Single steps over which nothing was recorded and nobody walked: a ride that left no points. */
function riddenHoles(fixes: readonly Fix[], limits: Design['recording']): Span[] {
  return fixes.flatMap((to, i) => {
    const from = fixes[i - 1];
    return from !== undefined && isRidden(from.point, to.point, limits)
      ? [{ from: from.index, to: to.index }]
      : [];
  });
}

function joined(spans: readonly Span[]): Span[] {
  const found: Span[] = [];
  for (const span of spans.toSorted((a, b) => a.from - b.from)) {
    const before = found.at(-1);
    if (before === undefined || span.from > before.to) found.push(span);
    else found.splice(-1, 1, { from: before.from, to: Math.max(before.to, span.to) });
  }
  return found;
}

/** The ends of a ride to the fix: within a step of its first and last step, from the first to the last fast one. */
function edges(fixes: readonly Fix[], steps: readonly Step[], ride: Span, walkMostMs: number): Span {
  const isFast = (before: Fix, fix: Fix) =>
    stepM(before.point, fix.point) / ((fix.timeMs - before.timeMs) / 1000) > walkMostMs;
  /** The fast hops from one fix to the next between two fixes. */
  const fastHops = (from: Fix, to: Fix) => {
    const some = fixes.slice(fixes.indexOf(from), fixes.indexOf(to) + 1);
    return some.slice(1).flatMap((fix, i) => {
      const before = at(some, i);
      return isFast(before, fix) ? [{ before, fix }] : [];
    });
  };
  const first = at(steps, ride.from);
  const end = at(steps, ride.to);
  const [head] = fastHops((steps[ride.from - 1] ?? first).from, first.to);
  const tail = fastHops(end.from, (steps[ride.to + 1] ?? end).to).at(-1);
  return { from: (head?.before ?? first.from).index, to: (tail?.fix ?? end.to).index };
}

export interface Ride {
  readonly minutes: number;
  readonly lengthM: number;
}

export interface Split {
  readonly walks: readonly Line[];
  /** What was cut before the first walk, and after the last; `null` where nothing was ridden there. */
  readonly before: Ride | null;
  readonly after: Ride | null;
  readonly between: readonly Ride[];
}

interface Stretch {
  readonly isRide: boolean;
  readonly points: readonly TrackPoint[];
}

function stretchesOf(points: readonly TrackPoint[], limits: Design['recording']): Stretch[] {
  const stretches: Stretch[] = [];
  let at = 0;
  const add = (isRide: boolean, from: number, to: number) => {
    if (to > from) stretches.push({ isRide, points: points.slice(from, to + 1) });
  };
  for (const { from, to } of ridesOf(points, limits)) {
    add(false, at, from);
    add(true, Math.max(at, from), to);
    at = Math.max(at, to);
  }
  add(false, at, points.length - 1);
  return stretches;
}

/** Too short to be the walk: waiting at the car, changing from one lift to the next. */
function isSlight({ points }: Stretch, { leastWalkMin, leastWalkM }: Design['recording']): boolean {
  const [first] = points;
  const reachM = points.reduce(
    (most, point) => Math.max(most, first === undefined ? 0 : stepM(first, point)),
    0,
  );
  const fromMs = firstMs([points]);
  const toMs = lastMs([points]);
  const isShort = fromMs !== null && toMs !== null && (toMs - fromMs) / MS_PER_MIN < leastWalkMin;
  return reachM < leastWalkM || isShort;
}

/**
 * The walks of a recording, without what was ridden: drives at its ends, lifts and shuttles in between. Found by
 * speed, and by height gained or lost a second where heights are known; a hole in the recording that was crossed faster
 * than a group walks is one too. Without times nothing is found.
 */
export function splitAtRides(line: Line, limits: Design['recording']): Split {
  const stretches = line.flatMap((points) => stretchesOf(points, limits));
  const ridden = stretches.map(
    (stretch, i) =>
      stretch.isRide ||
      ([stretches[i - 1], stretches[i + 1]].some((neighbour) => neighbour?.isRide === true) &&
        isSlight(stretch, limits)),
  );
  if (!ridden.includes(true)) return { walks: [line], before: null, after: null, between: [] };

  const walks: (readonly TrackPoint[])[][] = [];
  const cuts: { readonly after: number; readonly points: Line }[] = [];
  let open: (readonly TrackPoint[])[] | null = null;
  let cut: (readonly TrackPoint[])[] = [];
  stretches.forEach(({ points }, i) => {
    if (ridden[i] === true) {
      if (cut.length === 0) cuts.push({ after: walks.length, points: cut });
      cut.push(points);
      open = null;
      return;
    }
    cut = [];
    if (open === null) {
      open = [];
      walks.push(open);
    }
    open.push(points);
  });
  const rides = cuts.map(({ after, points }) => {
    const fromMs = after === 0 ? firstMs(line) : lastMs(walks[after - 1] ?? []);
    const toMs = after === walks.length ? lastMs(line) : firstMs(walks[after] ?? []);
    const minutes = fromMs === null || toMs === null ? 0 : (toMs - fromMs) / MS_PER_MIN;
    return { after, ride: { minutes, lengthM: lengthM(points) } };
  });
  const at = (place: number) => rides.find(({ after }) => after === place)?.ride ?? null;
  return {
    walks,
    before: at(0),
    after: walks.length === 0 ? null : at(walks.length),
    between: rides.filter(({ after }) => after > 0 && after < walks.length).map(({ ride }) => ride),
  };
}
