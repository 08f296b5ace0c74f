import { at } from '../../array.ts';
import type { Design } from '../../design.ts';
import { stepM } from '../../ingest/step-length.ts';
import type { Track, TrackPoint } from '../../ingest/track.ts';
import type { Note } from '../../notes.ts';
import { MS_PER_MIN } from '../../units.ts';
import { jitterM } from './jitter.ts';
import { fixesOf, lengthM, thinned } from './line.ts';
import { withinTolerance } from './within-tolerance.ts';

/** A line this much shorter is told of (design). */
const NOTED_SHARE = 0.03;

/**
 * Of each rest only the first and the last point: near one place for a while (the stay points of Li et al. 2008, *ACM
 * GIS*, with a walker's distance and time). The wider circle of a stand (`stopsOf`) would hide the last metres to a top.
 */
function withoutRests(points: readonly TrackPoint[], limits: Design['recording']): number[] {
  const isInside = new Uint8Array(points.length);
  // A point a second is enough, and bounds what a rest takes to find.
  const fixes = thinned(fixesOf([points]), 1);
  for (let i = 0; i < fixes.length; i += 1) {
    const start = fixes[i];
    if (start === undefined) continue;
    let last = i;
    for (let near = fixes[i + 1]; near !== undefined; near = fixes[last + 1]) {
      if (stepM(start.point, near.point) > limits.restM) break;
      last += 1;
    }
    const end = fixes[last];
    if (end === undefined || end.timeMs - start.timeMs < limits.restMin * MS_PER_MIN) continue;
    isInside.fill(1, start.index + 1, end.index);
    i = last - 1;
  }
  return points.flatMap((_, i) => (isInside[i] === 1 ? [] : [i]));
}

/** The points of a walk along which it is measured, its ends at least: no wander of a rest, no jitter on the way. */
function measuredIndexes(points: readonly TrackPoint[], limits: Design['recording']): number[] {
  const moving = withoutRests(points, limits);
  const line = moving.flatMap((i) => points[i] ?? []);
  const toleranceM = jitterM(fixesOf([line]), limits);
  if (toleranceM === 0) return moving;
  return withinTolerance(line, toleranceM).flatMap((i) => moving[i] ?? []);
}

/** How far along the measured line each point of the walk lies, metres; what is left out lies evenly between. */
export function measuredAlongM(points: readonly TrackPoint[], limits: Design['recording']): number[] {
  const rawM: number[] = [];
  points.forEach((point, i) => {
    const before = points[i - 1];
    rawM.push(before === undefined ? 0 : at(rawM, i - 1) + stepM(before, point));
  });
  const alongM = new Array<number>(points.length).fill(0);
  const kept = measuredIndexes(points, limits);
  kept.forEach((to, k) => {
    const from = kept[k - 1];
    const [start, end] = [points[from ?? to], points[to]];
    if (from === undefined || start === undefined || end === undefined) return;
    const [startM, endM] = [at(rawM, from), at(rawM, to)];
    const lineM = stepM(start, end);
    for (let i = from + 1; i <= to; i += 1) {
      const share = endM > startM ? (at(rawM, i) - startM) / (endM - startM) : 1;
      alongM[i] = at(alongM, from) + share * lineM;
    }
  });
  return alongM;
}

/**
 * A walk as it is laid on the terrain: without the wander of a rest and the jitter of a receiver, which would make the
 * day longer than it was. Its clock is read off the walk itself. The note `jitter-left-out` says by how much it is
 * shorter, from 3 % on.
 */
export function measuredLine(walk: Track, limits: Design['recording']): Track {
  const segments = walk.segments.map((points) => measuredIndexes(points, limits).map((i) => at(points, i)));
  const recordedM = lengthM(walk.segments);
  const measuredM = lengthM(segments);
  if (measuredM >= (1 - NOTED_SHARE) * recordedM) return { ...walk, segments };
  const note: Note = { code: 'jitter-left-out', values: { recordedM, countedM: measuredM } };
  return { ...walk, segments, notes: [...walk.notes, note] };
}
