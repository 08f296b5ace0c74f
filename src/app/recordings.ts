/** From recordings and days by hand to outings, and from a cohort's file to its record. */

import { clockedOuting } from '../capability/clocked-outing.ts';
import { handOuting } from '../capability/hand-outing.ts';
import { handRecordOf } from '../capability/hand-record.ts';
import { oneDay } from '../capability/one-day.ts';
import type { Outing } from '../capability/outing.ts';
import { implausible } from '../capability/plausibility.ts';
import { onlyHeightM, withHeights } from '../capability/recording/ground-heights.ts';
import type { Line } from '../capability/recording/line.ts';
import { measuredLine } from '../capability/recording/measured-line.ts';
import { walksOf } from '../capability/recording/walks.ts';
import type { Place } from '../earth/geodesic.ts';
import { EngineError, inFile } from '../errors.ts';
import type { CohortInput, OutingInput } from '../ingest/cohort-file.ts';
import { readTracks } from '../ingest/read-tracks.ts';
import type { Track } from '../ingest/track.ts';
import { message } from '../message.ts';
import type { CohortRecord } from '../rank/readiness.ts';
import { dayOf } from '../storage/last-trip.ts';
import type { KeptOuting } from '../storage/outings.ts';
import { MIN_PER_H, MS_PER_MIN } from '../units.ts';
import { type Ground, measured, type RouteFile } from './measure.ts';

export interface OutingRecord {
  readonly date: string;
  readonly rockClass: string | null;
  readonly members: readonly string[] | null;
}

/** The meeting place of a cohort, whose surroundings are cut from its tracks; `null` where it states none. */
export function homeOf({ home }: Pick<CohortInput, 'home'>): Place | null {
  return home == null ? null : { lonDeg: home.lon, latDeg: home.lat };
}

/** A recorded day: the outing, and the line that was walked, which is never kept. */
export interface RecordedDay {
  readonly outing: Outing;
  readonly segments: Line;
}

/** The walks of a track. Where the file knows no heights a slow lift is told from walking by those of the ground. */
async function walksOver(track: Track, date: string, { surface, design }: Ground, home: Place | null) {
  const statedM = onlyHeightM(track);
  if (statedM === undefined) return walksOf(track, date, home, design);
  const points = track.segments.flat();
  const { heightsM } = await surface.heightsAt(
    points.map(({ lonDeg }) => lonDeg),
    points.map(({ latDeg }) => latDeg),
  );
  const asStated = (walk: Track) =>
    withHeights(
      walk,
      walk.segments.flat().map(() => statedM),
    );
  return walksOf(withHeights(track, heightsM), date, home, design).map(asStated);
}

/**
 * Reads a recorded day: what was walked of it, in one or several walks. The file must hold one track.
 *
 * @param home the meeting place (`homeOf`); `null`: nothing is cut there
 * @throws EngineError `bad-outing` where nothing walked is left, and for everything that can be wrong with a file.
 */
export async function recordedDay(
  file: RouteFile,
  record: OutingRecord,
  ground: Ground,
  home: Place | null,
): Promise<RecordedDay> {
  const tracks = readTracks(file.bytes, file, ground.design.recording.fastestMs);
  const [track] = tracks;
  if (track === undefined || tracks.length > 1) {
    throw new EngineError(
      'bad-outing',
      message`an outing is one track; this file holds ${tracks.length}: keep the one that was walked`,
    );
  }
  const walks: Outing[] = [];
  const walked = await walksOver(track, record.date, ground, home);
  for (const walk of walked) {
    const route = await measured(measuredLine(walk, ground.design.recording), file, ground, false);
    walks.push(clockedOuting(walk, route, record, ground.design));
  }
  return { outing: oneDay(walks), segments: walked.flatMap(({ segments }) => segments) };
}

/** The outing of a recorded day. */
export async function outingOfTrack(...day: Parameters<typeof recordedDay>): Promise<Outing> {
  return (await recordedDay(...day)).outing;
}

/**
 * A hand-entered outing of a cohort file or a request, as the engine uses it.
 * @throws EngineError `outing-implausible` where its figures look wrong and are not confirmed; `bad-outing`.
 */
export function outingByHand(input: OutingInput): Outing {
  const record = handRecordOf(input);
  const doubts = implausible(record);
  const [first] = doubts;
  if (first !== undefined && input.confirmed !== true) {
    throw new EngineError(
      'outing-implausible',
      message`the outing of ${input.date} looks wrong: ${{ notes: doubts }}. Correct it, or ${{ act: 'confirm' }}`,
    );
  }
  const outing = handOuting(record);
  return { ...outing, notes: [...doubts, ...outing.notes] };
}

/**
 * A cohort with its outings measured.
 *
 * @param readTrackFile gives the bytes of a track named by an outing
 */
export async function cohortRecordOf(
  cohort: CohortInput,
  readTrackFile: (path: string) => Promise<Uint8Array>,
  ground: Ground,
): Promise<CohortRecord> {
  const outings: Outing[] = [];
  for (const input of cohort.outings ?? []) {
    if (input.track == null) {
      outings.push(outingByHand(input));
      continue;
    }
    const { track, date, rockClass = null, members = null } = input;
    const outing = inFile(track, async () => {
      const file = { bytes: await readTrackFile(track), fileName: track };
      return outingOfTrack(file, { date, rockClass, members }, ground, homeOf(cohort));
    });
    outings.push(await outing);
  }
  return { cohort, outings };
}

/** No clock on Earth is further ahead of UTC. */
const EASTERNMOST_MS = 14 * MIN_PER_H * MS_PER_MIN;

/** An outing as it is kept: with what people say of the day, and a note where its day is still to come. */
export function keptOuting(
  outing: Outing,
  { turnedBecause, nearMisses }: Pick<OutingInput, 'turnedBecause' | 'nearMisses'>,
  nowMs: number,
): KeptOuting {
  const misses = nearMisses?.filter((text) => text !== '') ?? [];
  const isAhead = outing.date > dayOf(nowMs + EASTERNMOST_MS);
  return {
    ...outing,
    notes: isAhead ? [...outing.notes, { code: 'date-ahead', values: { date: outing.date } }] : outing.notes,
    ...(turnedBecause == null || turnedBecause === '' ? {} : { turnedBecause }),
    ...(misses.length === 0 ? {} : { nearMisses: misses }),
  };
}
