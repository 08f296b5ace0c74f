import { at, weightedMean } from '../array.ts';
import type { Design } from '../design.ts';
import type { Track } from '../ingest/track.ts';
import type { Note } from '../notes.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Route } from '../route/describe-route.ts';
import type { Piece } from '../route/pieces.ts';
import type { Outing, TimedPart } from './outing.ts';
import { totalQuantities } from './quantities.ts';
import { type Interval, intervalsOf } from './recording/intervals.ts';
import { firstMs, lastMs } from './recording/line.ts';

/** Notes for whoever plans with the line: a day that was walked is what it is. */
const FOR_PLANNING = new Set(['ends-at-top', 'begins-at-top']);

function partOf(
  pieces: readonly Piece[],
  walked: readonly Interval[],
  descending: boolean,
  leastTimedShare: number,
): TimedPart | null {
  const own = pieces.filter((piece) => piece.descending === descending);
  if (own.length === 0) return null;
  let next = 0;
  let movingMin = 0;
  let timedM = 0;
  for (const interval of walked) {
    while (next < pieces.length - 1 && at(pieces, next).toM < interval.middleM) next += 1;
    if (pieces[next]?.descending !== descending) continue;
    if (interval.kind === 'dropOut') continue;
    timedM += interval.lengthM;
    if (interval.kind === 'moving') movingMin += interval.minutes;
  }
  const lengthM = own.reduce((sum, piece) => sum + piece.horizontalM, 0);
  // Minutes for half of the way would teach a pace twice too fast.
  if (timedM < leastTimedShare * lengthM) return null;
  return movingMin > 0 ? { quantities: totalQuantities(own), movingMin } : null;
}

function totalOf(walked: readonly Interval[], kind: Interval['kind']) {
  const some = walked.filter((interval) => interval.kind === kind);
  const minutes = some.reduce((sum, interval) => sum + interval.minutes, 0);
  const lengthM = some.reduce((sum, interval) => sum + interval.lengthM, 0);
  return { minutes, lengthM };
}

/**
 * An outing from a walk with a clock (`walksOf`): moving and standing time, climbing and descending parts apart,
 * heights from the same terrain as the candidates. A track without a usable clock still counts for distance and gain.
 *
 * @param route the track as drawn, measured (no way back added)
 */
export function clockedOuting(
  track: Track,
  route: Route,
  { date, rockClass, members }: Pick<Outing, 'date' | 'rockClass' | 'members'>,
  design: Design,
): Outing {
  const { leastTimedShare, longStandMin } = design.recording;
  const walked = intervalsOf(track.segments, design.recording);
  const moving = totalOf(walked, 'moving');
  const lost = totalOf(walked, 'dropOut');
  const stood = totalOf(walked, 'longStand');
  const timed = moving.minutes > 0;
  const { gainM } = route.measures;
  const known = gainM !== null && !route.heightsMissing;
  const climbs = route.pieces.filter((piece) => !piece.descending);
  const parts =
    timed && known
      ? [false, true]
          .map((descending) => partOf(route.pieces, walked, descending, leastTimedShare))
          .filter((part) => part !== null)
      : [];
  const notes: Note[] = route.notes.filter(({ code }) => !FOR_PLANNING.has(code));
  if (lost.minutes > 0) notes.push({ code: 'drop-out', values: lost });
  if (stood.minutes > 0) {
    notes.push({ code: 'long-stand', values: { minutes: stood.minutes, overMin: longStandMin } });
  }
  if (!timed) notes.push({ code: 'no-clock', values: {} });
  if (timed && known && parts.length < new Set(route.pieces.map((piece) => piece.descending)).size) {
    notes.push({ code: 'clock-incomplete', values: {} });
  }
  if (!known) {
    notes.push({ code: 'heights-missing', values: {} });
  }
  return {
    ...{ date, rockClass, members },
    source: 'track',
    distanceM: route.measures.distanceM,
    gainM: known ? gainM.value : null,
    gainHighM: known ? gainM.high : null,
    highM: route.measures.highM,
    quantities: known ? totalQuantities(route.pieces) : null,
    parts,
    movingMin: timed ? moving.minutes : null,
    standingMin: timed ? totalOf(walked, 'standing').minutes : null,
    climbElevationM: known ? weightedMean(climbs.map((piece) => [piece.elevationM, piece.climbM])) : null,
    clockFromMs: timed ? firstMs(track.segments) : null,
    clockToMs: timed ? lastMs(track.segments) : null,
    notes,
    attribution: attributionOf([route]),
  };
}
