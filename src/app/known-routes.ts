import { geodesicM, type Place } from '../earth/geodesic.ts';
import type { LibraryTable } from './ranked-library.ts';

/** Routes that a plan looks through at most, for its lower choice and for training: it stays quick (design). */
export const MOST_KNOWN = 200;

/** Ids of the routes whose trailheads lie nearest to a place, the nearest first; no stored line is read for it. */
export function nearestTo(
  place: Place,
  {
    table,
    ids,
  }: Pick<LibraryTable, 'ids'> & {
    readonly table: { readonly columns: Pick<LibraryTable['table']['columns'], 'lonDeg' | 'latDeg'> };
  },
  except: string,
  most: number = MOST_KNOWN,
): readonly string[] {
  const { lonDeg, latDeg } = table.columns;
  return ids
    .map((id, i) => ({
      id,
      awayM: geodesicM(place, { lonDeg: lonDeg[i] ?? Number.NaN, latDeg: latDeg[i] ?? Number.NaN }),
    }))
    .filter(({ id }) => id !== except)
    .sort((a, b) => a.awayM - b.awayM)
    .slice(0, most)
    .map(({ id }) => id);
}
