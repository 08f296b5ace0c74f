import { at, last } from '../../array.ts';
import type { Design } from '../../design.ts';
import { MIN_PER_H, MS_PER_MIN } from '../../units.ts';
import { type Fix, fixesOf, type Line, mapPoints, type NotedLine } from './line.ts';

/** Which of the times to keep so that they rise strictly and as many as possible are kept (patience sorting). */
function rising(fixes: readonly Fix[]): Fix[] {
  /** By length of a rising row: the fix that ends one, the earliest there is. */
  const ends: number[] = [];
  const before: (number | undefined)[] = [];
  fixes.forEach(({ timeMs }, i) => {
    let low = 0;
    let high = ends.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (at(fixes, at(ends, middle)).timeMs < timeMs) low = middle + 1;
      else high = middle;
    }
    before[i] = ends[low - 1];
    ends[low] = i;
  });
  const kept: Fix[] = [];
  for (let i = ends.at(-1); i !== undefined; i = before[i]) kept.push(at(fixes, i));
  return kept.reverse();
}

/**
 * Of the rows of fixes without a break of `clockBreakH` those that last as long as a walk: days. The longest of several
 * where none does.
 */
function lasting(fixes: readonly Fix[], limits: Design['recording']): readonly Fix[] {
  const breakMs = limits.clockBreakH * MIN_PER_H * MS_PER_MIN;
  const rows: (readonly Fix[])[] = [];
  let start = 0;
  fixes.forEach((fix, i) => {
    const next = fixes[i + 1];
    if (next !== undefined && next.timeMs - fix.timeMs <= breakMs) return;
    rows.push(fixes.slice(start, i + 1));
    start = i + 1;
  });
  const days = rows.filter((row) => last(row).timeMs - at(row, 0).timeMs >= limits.leastWalkMin * MS_PER_MIN);
  if (days.length > 0) return days.flat();
  return rows.reduce((best, row) => (row.length > best.length ? row : best), []);
}

/**
 * The line with only those times that can be trusted: they rise from point to point, and no few of them lie a day
 * off the rest. A time that does not is `null`; no point is lost. The note `clock-jump` counts those that are far from their neighbours.
 */
export function trustedClock(line: Line, limits: Design['recording']): NotedLine {
  const fixes = fixesOf(line);
  const kept = lasting(rising(fixes), limits);
  if (kept.length === fixes.length) return { line, notes: [] };

  const jumpMs = limits.clockJumpMin * MS_PER_MIN;
  let next = 0;
  let jumps = 0;
  const good = new Set<number>();
  for (const { index, timeMs } of fixes) {
    if (kept[next]?.index === index) {
      good.add(index);
      next += 1;
      continue;
    }
    const neighbours = [kept[next - 1], kept[next]].filter((fix) => fix !== undefined);
    if (neighbours.every((fix) => Math.abs(timeMs - fix.timeMs) > jumpMs)) jumps += 1;
  }
  const trusted = mapPoints(line, (point, i) => (good.has(i) ? point : { ...point, timeMs: null }));
  return { line: trusted, notes: jumps === 0 ? [] : [{ code: 'clock-jump', values: { count: jumps } }] };
}
