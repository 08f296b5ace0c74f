/**
 * The use cases: the only place where reading and computing meet. Files come in as bytes, tiles as a `Surface`;
 * everything after that is pure.
 */
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
import { type Design, withChanges } from '../design.ts';
import type { Place } from '../earth/geodesic.ts';
import { isRealDate } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import type { CohortInput, OutingInput } from '../ingest/cohort-file.ts';
import { type ReadOptions, readRecording, readTracks } from '../ingest/read-tracks.ts';
import type { Track } from '../ingest/track.ts';
import { checkWhatIf } from '../ingest/what-if.ts';
import { explainedFitOf, type Fit, type RankedFit } from '../rank/fit.ts';
import { tableOf } from '../rank/rank-table.ts';
import { type CohortRecord, type FitRequest, readinessOf } from '../rank/readiness.ts';
import { rowOf } from '../rank/route-row.ts';
import { type Move, whatMoved } from '../rank/what-moved.ts';
import { describeRoute, type Route } from '../route/describe-route.ts';
import { rankRoutes } from '../sampling/rank-routes.ts';
import { rankingOf } from '../sampling/ranking.ts';
import { drape } from '../terrain/drape.ts';
import { recordedHeightNotes } from '../terrain/recorded-heights.ts';
import type { Surface } from '../terrain/surface.ts';
import { looksSwapped } from '../terrain/swapped.ts';
import { noteText } from '../text/notes.ts';
import type { UnitSystem } from '../units.ts';

/** What the use cases stand on. */
export interface Ground {
  readonly surface: Surface;
  readonly design: Design;
}

export interface RouteFile extends ReadOptions {
  readonly bytes: Uint8Array;
  /** From `NAME.route.json`; `null` where there is none. Wins over GeoJSON properties. */
  readonly attributes?: RouteAttributes | null;
}

async function measured(track: Track, file: RouteFile, ground: Ground, addWayBack: boolean): Promise<Route> {
  if (looksSwapped(track, ground.surface.sources)) {
    throw new EngineError(
      'coordinates-look-swapped',
      `“${track.name}” lies outside the elevation tiles, and inside them with latitude and longitude swapped: swap them in the file`,
    );
  }
  const elevated = await drape(track, ground.surface);
  const withNotes = {
    ...elevated,
    track: { ...track, notes: [...track.notes, ...recordedHeightNotes(elevated)] },
  };
  const attributes = file.attributes ?? track.attributes ?? {};
  return describeRoute(withNotes, ground.design, { attributes, addWayBack });
}

async function eachMeasured(file: RouteFile, ground: Ground, addWayBack: boolean): Promise<Route[]> {
  const tracks = readTracks(file.bytes, file);
  const named = file.attributes?.name;
  if (tracks.length > 1 && named != null) {
    throw new EngineError(
      'bad-attribute',
      `one name (“${named}”) is stated for a file with ${tracks.length} routes: leave the name out, or split the file`,
      { pointer: '/name' },
    );
  }
  const routes: Route[] = [];
  for (const track of tracks) routes.push(await measured(track, file, ground, addWayBack));
  return routes;
}

/** Measures the lines of a file as they are drawn: no way back is added. */
export function measureFile(file: RouteFile, ground: Ground): Promise<Route[]> {
  return eachMeasured(file, ground, false);
}

/** Reads and measures the candidate routes of a file; a way up that stops at its top gets the same way back. */
export function routesOf(file: RouteFile, ground: Ground): Promise<Route[]> {
  return eachMeasured(file, ground, true);
}

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
  const tracks = readRecording(file.bytes, file, ground.design.recording.fastestMs);
  const [track] = tracks;
  if (track === undefined || tracks.length > 1) {
    throw new EngineError(
      'bad-outing',
      `an outing is one track; this file holds ${tracks.length}: keep the one that was walked`,
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
      `the outing of ${input.date} looks wrong: ${doubts.map((doubt) => noteText(doubt, 'metric')).join('; ')}. Correct it, or send "confirmed": true to keep it as it is`,
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
    const record = { date: input.date, rockClass: input.rockClass ?? null, members: input.members ?? null };
    try {
      const bytes = await readTrackFile(input.track);
      const file = { bytes, fileName: input.track };
      outings.push(await outingOfTrack(file, record, ground, homeOf(cohort)));
    } catch (error) {
      throw error instanceof EngineError ? error.inFile(input.track) : error;
    }
  }
  return { cohort, outings };
}

/** @throws EngineError `bad-date` unless it is a real calendar day, `YYYY-MM-DD`. */
export function checkDate(text: string): string {
  if (!isRealDate(text) || text < '1900' || text >= '2200') {
    throw new EngineError(
      'bad-date',
      `“${text.slice(0, 40)}” is not a day from 1900 to 2199: write a real one as YYYY-MM-DD, for example 2026-07-11`,
    );
  }
  return text;
}

/** @throws EngineError `usage` unless it is a time of day `HH:MM`. */
export function checkClock(text: string): string {
  if (!/^([01]\d|2[0-3]):[0-5]\d$/.test(text)) {
    throw new EngineError(
      'usage',
      `“${text.slice(0, 40)}” is not a time of day: write it as HH:MM, for example 04:30`,
    );
  }
  return text;
}

export function rank(
  routes: readonly Route[],
  record: CohortRecord,
  date: string,
  design: Design,
  units: UnitSystem,
): RankedFit[] {
  return rankRoutes(routes, { record, date: checkDate(date), design }, units);
}

/** A question asked otherwise: the cohort, date and settings as they would be. */
export type WhatIf = FitRequest;

/**
 * The question as changes that came from outside would have it; nothing is stored.
 * @throws EngineError `bad-what-if`, `bad-date`, `outing-implausible`.
 */
export function whatIf(record: CohortRecord, date: string, value: unknown, design: Design): WhatIf {
  const { changes, cohort } = checkWhatIf(value, record.cohort);
  const asked = checkDate(changes.date ?? date);
  const outings = [...record.outings, ...(changes.outings ?? []).map(outingByHand)];
  const weights = Object.entries(changes.weights ?? {}).filter(([, weight]) => weight !== null);
  return {
    record: { cohort, outings, start: changes.start ?? record.start ?? null },
    date: asked,
    design:
      weights.length === 0
        ? design
        : withChanges(
            { version: `${design.version}, weights of the request`, weights: Object.fromEntries(weights) },
            design,
          ),
  };
}

/** A ranking as it would be with some changes, and what moved against the one without them. */
export function rankIf(
  routes: readonly Route[],
  record: CohortRecord,
  date: string,
  changes: unknown,
  design: Design,
  units: UnitSystem,
): {
  readonly asked: WhatIf;
  readonly ranked: readonly RankedFit[];
  readonly moved: readonly (Omit<Move, 'which'> & { readonly name: string })[];
} {
  const asked = whatIf(record, checkDate(date), changes, design);
  const table = tableOf(routes.map((route) => rowOf(route, design)));
  const rankingFor = (of: WhatIf) => rankingOf(table, of, readinessOf(of));
  const moves = whatMoved(rankingFor({ record, date, design }), rankingFor(asked));
  return {
    asked,
    ranked: rankRoutes(routes, asked, units),
    moved: moves.map(({ which, ...move }) => ({ name: table.names[which] ?? '', ...move })),
  };
}

/** One route for a cohort, judged as in the shortlist. Its rank among others is not known. */
export function fitFor(
  route: Route,
  record: CohortRecord,
  date: string,
  design: Design,
  units: UnitSystem,
): Fit {
  const request = { record, date: checkDate(date), design };
  return explainedFitOf(route, request, readinessOf(request), units);
}
