import { geodesicM } from '../earth/geodesic.ts';
import type { Note } from '../errors.ts';
import type { Track } from '../ingest/track.ts';
import type { Route } from '../route/describe-route.ts';
import type { Piece } from '../route/pieces.ts';
import type { Outing, TimedPart } from './outing.ts';
import { totalQuantities } from './quantities.ts';

/** Slower than this is standing, m/s (data/README.md of the real hike uses the same). */
const STANDING_MS = 0.15;

/** Share of a climb's or descent's length that must have times for its pace to count (design). */
const LEAST_TIMED_SHARE = 0.95;

interface Interval {
  readonly middleM: number;
  readonly lengthM: number;
  readonly minutes: number;
  readonly moving: boolean;
}

function intervals(track: Track): Interval[] {
  const found: Interval[] = [];
  let atM = 0;
  for (const points of track.segments) {
    points.forEach((point, i) => {
      const before = points[i - 1];
      if (before === undefined) return;
      const stepM = geodesicM(before, point);
      const ms = point.timeMs !== null && before.timeMs !== null ? point.timeMs - before.timeMs : 0;
      if (ms > 0) {
        const moving = stepM / (ms / 1000) >= STANDING_MS;
        found.push({ middleM: atM + stepM / 2, lengthM: stepM, minutes: ms / 60_000, moving });
      }
      atM += stepM;
    });
  }
  return found;
}

function partOf(
  pieces: readonly Piece[],
  walked: readonly Interval[],
  descending: boolean,
): TimedPart | null {
  const own = pieces.filter((piece) => piece.descending === descending);
  if (own.length === 0) return null;
  let next = 0;
  let movingMin = 0;
  let timedM = 0;
  for (const interval of walked) {
    while (next < pieces.length - 1 && (pieces[next]?.toM ?? 0) < interval.middleM) next += 1;
    if (pieces[next]?.descending !== descending) continue;
    timedM += interval.lengthM;
    if (interval.moving) movingMin += interval.minutes;
  }
  const lengthM = own.reduce((sum, piece) => sum + piece.horizontalM, 0);
  // Minutes for half of the way would teach a pace twice too fast.
  if (timedM < LEAST_TIMED_SHARE * lengthM) return null;
  return movingMin > 0 ? { quantities: totalQuantities(own), movingMin } : null;
}

/**
 * An outing from a track with a clock: moving and standing time, climbing and descending parts apart, heights from
 * the same terrain as the candidates. A track without a usable clock still counts for distance and gain.
 *
 * @param route the track as drawn, measured (no way back added)
 */
export function clockedOuting(
  track: Track,
  route: Route,
  record: {
    readonly date: string;
    readonly rockClass: string | null;
    readonly members: readonly string[] | null;
  },
): Outing {
  const walked = intervals(track);
  const sum = (moving: boolean) =>
    walked.reduce((minutes, interval) => minutes + (interval.moving === moving ? interval.minutes : 0), 0);
  const timed = walked.length > 0;
  const { gainM } = route.measures;
  const known = gainM !== null && !route.heightsMissing;
  const climbs = route.pieces.filter((piece) => !piece.descending);
  const climbM = climbs.reduce((total, piece) => total + piece.climbM, 0);
  const parts =
    timed && known
      ? [false, true]
          .map((descending) => partOf(route.pieces, walked, descending))
          .filter((part) => part !== null)
      : [];
  const notes: Note[] = [...route.notes];
  if (!timed) {
    notes.push({ code: 'no-clock', text: 'no usable times: counts for distance and gain, not for pace' });
  }
  if (timed && known && parts.length < new Set(route.pieces.map((piece) => piece.descending)).size) {
    notes.push({
      code: 'clock-incomplete',
      text: 'times are missing for part of the way: what is not wholly timed does not count for the pace',
    });
  }
  if (!known) {
    notes.push({
      code: 'heights-missing',
      text: 'heights are missing under the line: counts for distance only; add elevation tiles for its area',
    });
  }
  return {
    date: record.date,
    source: 'track',
    distanceM: route.measures.distanceM,
    gainM: known ? gainM.value : null,
    gainHighM: known ? gainM.high : null,
    highM: route.measures.highM,
    rockClass: record.rockClass,
    members: record.members,
    quantities: known ? totalQuantities(route.pieces) : null,
    parts,
    movingMin: timed ? sum(true) : null,
    standingMin: timed ? sum(false) : null,
    climbElevationM:
      known && climbM > 0
        ? climbs.reduce((total, piece) => total + piece.elevationM * piece.climbM, 0) / climbM
        : null,
    notes,
  };
}
