import { at, greatestKnown } from '../array.ts';
import { localScale } from '../earth/local-scale.ts';
import { type GroundSlopes, OFFSET_M } from './elevated-track.ts';
import { hornSlopeDeg } from './horn.ts';
import type { Places, Stations } from './stations.ts';
import { covers, type Surface } from './surface.ts';

/** Where beside the line the ground is looked at, metres to the left and right (design: slides from farther off are not seen). */
const BESIDE_M = 50;
const ABOVE_M = 100;
/** Centres of windows at a station, as multiples of the sideways offset: on the line, then left and right. */
const ACROSS = [0, BESIDE_M, -BESIDE_M, ABOVE_M, -ABOVE_M].map((metres) => metres / OFFSET_M);
const WINDOW = 9;
/** Finer tiles are looked at in steps of this: a boulder is no slope, metres (design). */
const LEAST_CELL_M = 10;

/** Places whose heights tell the steepness at stations: `PLACES_EACH` a station, window by window, rows from the north. */
export interface SlopeWindows {
  readonly lonDeg: Float64Array;
  readonly latDeg: Float64Array;
  /** Distance between the columns and rows of a station's windows, metres. */
  readonly cellXM: readonly number[];
  readonly cellYM: readonly number[];
}

export const PLACES_EACH = ACROSS.length * WINDOW;

/** The windows at each station, as wide as the postings of the first tile that covers it. */
export function slopeWindows(stations: Stations, left: Places, tiles: Surface['sources']): SlopeWindows {
  const count = stations.distanceM.length;
  const lonDeg = new Float64Array(count * PLACES_EACH);
  const latDeg = new Float64Array(count * PLACES_EACH);
  const cellXM: number[] = [];
  const cellYM: number[] = [];
  let k = 0;
  for (let i = 0; i < count; i += 1) {
    const lon = at(stations.lonDeg, i);
    const lat = at(stations.latDeg, i);
    const lonStep = at(left.lonDeg, i) - lon;
    const latStep = at(left.latDeg, i) - lat;
    const scale = localScale(lat);
    const tile = tiles.find((one) => covers(one, { lonDeg: lon, latDeg: lat }));
    // Near a pole a degree of longitude is nothing: the window is a column there, and its slope not known.
    const perLon = Math.max(1, scale.mPerDegLon);
    const xM = Math.max(LEAST_CELL_M, (tile?.stepLonDeg ?? 0) * perLon);
    const yM = Math.max(LEAST_CELL_M, (tile?.stepLatDeg ?? 0) * scale.mPerDegLat);
    cellXM.push(xM);
    cellYM.push(yM);
    for (const times of ACROSS) {
      for (let row = -1; row <= 1; row += 1) {
        for (let column = -1; column <= 1; column += 1) {
          lonDeg[k] = lon + times * lonStep + (column * xM) / perLon;
          latDeg[k] = Math.min(90, Math.max(-90, lat + times * latStep - (row * yM) / scale.mPerDegLat));
          k += 1;
        }
      }
    }
  }
  return { lonDeg, latDeg, cellXM, cellYM };
}

/**
 * Steepness at each station from the heights of its windows.
 * @param heightAt the height of a place by its index in the windows
 */
export function groundSlopes(
  { cellXM, cellYM }: SlopeWindows,
  heightAt: (index: number) => number | null,
): GroundSlopes {
  const onDeg: (number | null)[] = [];
  const besideDeg: (number | null)[] = [];
  const aboveDeg: (number | null)[] = [];
  cellXM.forEach((xM, i) => {
    const windows = ACROSS.map((_, n) => {
      const first = i * PLACES_EACH + n * WINDOW;
      const slopeDeg = hornSlopeDeg((row, column) => heightAt(first + 3 * row + column), xM, at(cellYM, i));
      return { slopeDeg, heightM: heightAt(first + 4) };
    });
    const [on, left, right] = windows;
    const hereM = on?.heightM ?? null;
    onDeg.push(on?.slopeDeg ?? null);
    besideDeg.push(greatestKnown([left?.slopeDeg ?? null, right?.slopeDeg ?? null]));
    aboveDeg.push(
      greatestKnown(
        windows
          .slice(1)
          .filter(({ heightM }) => hereM !== null && heightM !== null && heightM > hereM)
          .map(({ slopeDeg }) => slopeDeg),
      ),
    );
  });
  return { onDeg, besideDeg, aboveDeg };
}
