import type { Note } from '../errors.ts';
import { INGEST_LIMITS } from './limits.ts';
import type { RawPoint } from './raw-track.ts';
import { stepM } from './step-length.ts';

export interface GapRepair {
  readonly segments: readonly (readonly RawPoint[])[];
  readonly notes: readonly Note[];
}

/**
 * Joins segments whose ends lie within 50 m. Wider gaps stay open: what lies between was not
 * recorded and is counted in neither distance nor climb, which a note says, loudly beyond 2 km.
 */
export function joinSegments(segments: readonly (readonly RawPoint[])[]): GapRepair {
  const joined: RawPoint[][] = [];
  const gapsM: number[] = [];
  let joins = 0;
  for (const segment of segments) {
    const before = joined.at(-1);
    const end = before?.at(-1);
    const start = segment[0];
    if (before === undefined || end === undefined || start === undefined) {
      joined.push([...segment]);
      continue;
    }
    const gapM = stepM(end, start);
    if (gapM <= INGEST_LIMITS.gapJoinM) {
      joins += 1;
      for (const point of segment) before.push(point);
    } else {
      gapsM.push(gapM);
      joined.push([...segment]);
    }
  }
  return { segments: joined, notes: [...joinNotes(joins), ...gapNotes(gapsM)] };
}

function joinNotes(joins: number): Note[] {
  if (joins === 0) return [];
  return [
    {
      code: 'segments-joined',
      text: `${joins} breaks of at most ${INGEST_LIMITS.gapJoinM} m in the line were closed with a straight step.`,
    },
  ];
}

function gapNotes(gapsM: readonly number[]): Note[] {
  const { gapJoinM, gapLoudM } = INGEST_LIMITS;
  const small = gapsM.filter((gapM) => gapM <= gapLoudM);
  const large = gapsM.filter((gapM) => gapM > gapLoudM);
  const notes: Note[] = [];
  if (large.length > 0) {
    notes.push({
      code: 'gap',
      text: `WARNING: ${large.length} gaps of more than ${gapLoudM / 1000} km, the longest ${(Math.max(...large) / 1000).toFixed(1)} km, are MISSING from this route. Its distance, climb and time are too low; do not plan with it before the line is complete.`,
    });
  }
  if (small.length > 0) {
    notes.push({
      code: 'gap',
      text: `${small.length} gaps of ${gapJoinM} m to ${gapLoudM / 1000} km, the longest ${Math.round(Math.max(...small))} m, are not counted in distance and climb: the route is longer than measured.`,
    });
  }
  return notes;
}
