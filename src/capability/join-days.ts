import type { Design } from '../design.ts';
import type { Note } from '../notes.ts';
import { MS_PER_DAY } from '../units.ts';
import { oneDay } from './one-day.ts';
import type { Outing } from './outing.ts';
import { overlapShare, type TimeSpan } from './recording/line.ts';

type Limits = Design['recording'];

/** `null` for a day by hand and a track without times (one that was stored before clocks were kept has neither). */
function clockOf({ clockFromMs, clockToMs }: Outing): TimeSpan | null {
  return typeof clockFromMs === 'number' && typeof clockToMs === 'number'
    ? { fromMs: clockFromMs, toMs: clockToMs }
    : null;
}

function isSameWalk(counted: Outing, other: Outing, limits: Limits): boolean {
  const [a, b] = [clockOf(counted), clockOf(other)];
  // Half of the shorter clock: the few minutes in which one device takes over from another do not make one walk of two.
  if (a === null || b === null || overlapShare(a, b) < 0.5) return false;
  // The same named people cannot be on two walks at once: the shorter one is the device that ran for less of it.
  return other.members !== null || other.distanceM >= limits.sameWalkShare * counted.distanceM;
}

function isSameEntry(counted: Outing, hand: Outing, limits: Limits): boolean {
  const isClose = (a: number | null, b: number | null) =>
    a !== null && b !== null && Math.abs(a - b) <= limits.sameEntryShare * Math.max(a, b);
  // A recording that times nothing does not take away a time that was entered.
  const loses = hand.parts.length > 0 && counted.parts.length === 0;
  return !loses && isClose(counted.distanceM, hand.distanceM) && isClose(counted.gainM, hand.gainM);
}

/**
 * Clocks that have nothing in common and lie within one day: parts of it. What overlaps may be other people's walk, and
 * a recording of another day, entered for this one by mistake, must not make it longer.
 */
function isOtherPart(one: Outing, other: Outing): boolean {
  const [a, b] = [clockOf(one), clockOf(other)];
  if (a === null || b === null || overlapShare(a, b) > 0) return false;
  return Math.max(a.toMs, b.toMs) - Math.min(a.fromMs, b.fromMs) <= MS_PER_DAY;
}

/** The longest first; the rest of the order only has to be one that does not hang on how the outings came. */
function byLength(a: Outing, b: Outing): number {
  return (
    b.distanceM - a.distanceM ||
    (a.clockFromMs ?? 0) - (b.clockFromMs ?? 0) ||
    JSON.stringify(a).localeCompare(JSON.stringify(b))
  );
}

function withSecond(counted: Outing, second: Outing): Outing {
  const values = { by: second.source === 'hand' ? 'hand' : 'recording' } as const;
  return {
    ...counted,
    rockClass: counted.rockClass ?? second.rockClass,
    notes: [...counted.notes, { code: 'second-recording', values }],
  };
}

function joined(outings: readonly Outing[], limits: Limits): Outing[] {
  const tracks: Outing[] = [];
  for (const outing of outings.filter(({ source }) => source === 'track').sort(byLength)) {
    const same = tracks.findIndex((counted) => isSameWalk(counted, outing, limits));
    const counted = tracks[same];
    if (counted === undefined) tracks.push(outing);
    else tracks[same] = withSecond(counted, outing);
  }
  const separate: Outing[] = [];
  for (const hand of outings.filter(({ source }) => source === 'hand')) {
    const same = tracks.findIndex((counted) => isSameEntry(counted, hand, limits));
    const counted = tracks[same];
    if (counted === undefined) separate.push(hand);
    else tracks[same] = withSecond(counted, hand);
  }

  const parts: Outing[] = [];
  for (const track of tracks) {
    if (clockOf(track) !== null && parts.every((part) => isOtherPart(part, track))) parts.push(track);
    else separate.push(track);
  }
  if (parts.length < 2) return [...parts, ...separate];
  const day = oneDay(parts.sort((a, b) => (a.clockFromMs ?? 0) - (b.clockFromMs ?? 0)));
  const notes: Note[] = [...day.notes, { code: 'day-in-parts', values: { count: parts.length } }];
  return [{ ...day, notes }, ...separate];
}

/**
 * Outings with each day counted once. Of one date and the same people (outings without labels are taken for the same):
 * a walk recorded twice counts as the longer recording, recordings one after the other are summed to one outing, and a
 * day by hand that is as long and as high as a recorded one is left to it.
 */
export function joinDays(outings: readonly Outing[], design: Design): Outing[] {
  const days = new Map<string, Outing[]>();
  for (const outing of outings) {
    const who = outing.members === null ? null : [...new Set(outing.members)].sort();
    const key = JSON.stringify([outing.date, who]);
    days.set(key, [...(days.get(key) ?? []), outing]);
  }
  return [...days.values()].flatMap((day) => (day.length === 1 ? day : joined(day, design.recording)));
}
