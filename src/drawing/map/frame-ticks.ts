import { at } from '../../array.ts';
import type { BoundingBox } from '../../earth/geodesic.ts';
import { M_PER_MILE, type UnitSystem } from '../../units.ts';

const STEPS_DEG = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10];

function ticks(
  fromDeg: number,
  toDeg: number,
  count: number,
  textOf: (fixed: (deg: number) => string, deg: number) => string,
) {
  const step = STEPS_DEG.find((one) => (toDeg - fromDeg) / one <= count) ?? 10;
  const digits = Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
  const fixed = (deg: number) => Math.abs(deg).toFixed(digits);
  const found: { deg: number; text: string }[] = [];
  for (let n = Math.ceil(fromDeg / step - 1e-9); n * step <= toDeg; n += 1) {
    found.push({ deg: n * step, text: textOf(fixed, n * step) });
  }
  return found;
}

/** Round degrees along the frame of a map, about `count` on each side: decimal degrees, as plans have them. */
export function frameTicks({ westDeg, eastDeg, southDeg, northDeg }: BoundingBox, count: number) {
  const lonText = (fixed: (deg: number) => string, deg: number) => {
    const turned = deg - 360 * Math.round(deg / 360);
    return `${fixed(turned)}° ${turned < 0 ? 'W' : 'E'}`;
  };
  const latText = (fixed: (deg: number) => string, deg: number) => `${fixed(deg)}° ${deg < 0 ? 'S' : 'N'}`;
  return { lons: ticks(westDeg, eastDeg, count, lonText), lats: ticks(southDeg, northDeg, count, latText) };
}

const ROUND = [0.1, 0.2, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100];

/** A bar of a round number of kilometres or miles, of at most `most` units of the map. */
export function scaleBar(unitsPerM: number, most: number, units: UnitSystem) {
  const [unitM, unit] = units === 'us' ? [M_PER_MILE, 'mi'] : [1000, 'km'];
  const round = ROUND.findLast((one) => one * unitM * unitsPerM <= most) ?? at(ROUND, 0);
  return { length: round * unitM * unitsPerM, text: `${round} ${unit}` };
}
