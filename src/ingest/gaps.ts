import type { Note } from '../notes.ts';
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
      values: { count: joins, mostM: INGEST_LIMITS.gapJoinM },
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
      values: { kind: 'large', count: large.length, longestM: Math.max(...large), overM: gapLoudM },
    });
  }
  if (small.length > 0) {
    notes.push({
      code: 'gap',
      values: {
        kind: 'small',
        count: small.length,
        longestM: Math.max(...small),
        overM: gapJoinM,
        mostM: gapLoudM,
      },
    });
  }
  return notes;
}
