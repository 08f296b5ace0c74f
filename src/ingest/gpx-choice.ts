import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { countNote, type Note } from '../notes.ts';
import { INGEST_LIMITS } from './limits.ts';
import type { RawTrack } from './raw-track.ts';

/**
 * Which tracks and routes of a GPX file become routes: those without any point are left out, and a
 * `rte` that may be the same walk as a `trk` of the file gives way to it.
 * @throws EngineError `no-line` where nothing is left, `too-many-routes`.
 */
export function chooseTracks(
  all: readonly RawTrack[],
  waypointCount: number,
): { readonly tracks: readonly RawTrack[]; readonly notes: readonly Note[] } {
  const filled = all.filter((track) => track.segments.some((segment) => segment.points.length > 0));
  if (filled.length === 0) throw noLine(all.length, waypointCount);
  const recorded = filled.filter((track) => track.kind === 'recorded');
  const recordedNames = new Set(recorded.map((track) => track.name));
  const tracks = filled.filter(
    (track) =>
      track.kind === 'recorded' ||
      recorded.length === 0 ||
      // Without a name on either side the two cannot be told apart.
      (track.name !== null &&
        track.name !== '' &&
        !recordedNames.has(null) &&
        !recordedNames.has(track.name)),
  );
  const limit = INGEST_LIMITS.routesPerFile;
  if (tracks.length > limit) {
    throw new EngineError(
      'too-many-routes',
      message`The file holds ${tracks.length} tracks and routes. Split it into files of at most ${limit}.`,
      { limit, found: tracks.length },
    );
  }
  const notes = [
    ...countNote('track-dropped', all.length - filled.length),
    ...countNote('route-ignored', filled.length - tracks.length),
  ];
  return { tracks, notes };
}

function noLine(emptyTracks: number, waypointCount: number): EngineError {
  const held = [
    ...(waypointCount > 0 ? [`${waypointCount} ${waypointCount === 1 ? 'waypoint' : 'waypoints'}`] : []),
    ...(emptyTracks > 0 ? [`${emptyTracks} empty ${emptyTracks === 1 ? 'track' : 'tracks'}`] : []),
  ];
  const holds =
    held.length === 0 ? 'no track or route' : `${held.join(' and ')} and no track or route with points`;
  return new EngineError('no-line', message`The file holds ${holds}. Export the line itself.`);
}
