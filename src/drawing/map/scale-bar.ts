import { M_PER_MILE, type UnitSystem } from '../../units.ts';

interface ScaleBar {
  /** Length on the map. */
  readonly length: number;
  readonly text: string;
}

const ROUND = [0.1, 0.2, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100];

/** A bar of a round number of kilometres or miles, of at most `most` units of the map. */
export function scaleBar(unitsPerM: number, most: number, units: UnitSystem): ScaleBar {
  const [unitM, unit] = units === 'us' ? [M_PER_MILE, 'mi'] : [1000, 'km'];
  const round = ROUND.findLast((one) => one * unitM * unitsPerM <= most) ?? ROUND[0] ?? 0.1;
  return { length: round * unitM * unitsPerM, text: `${round} ${unit}` };
}
