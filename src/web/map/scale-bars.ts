import { M_PER_MILE } from '../../units.ts';

export interface ScaleBar {
  /** Length on the map. */
  readonly length: number;
  readonly text: string;
}

const ROUND = [0.1, 0.2, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100];

/** A bar in kilometres and one in miles, each of a round length of at most `most` units of the map. */
export function scaleBars(unitsPerM: number, most: number): readonly ScaleBar[] {
  return [
    { unitM: 1000, unit: 'km' },
    { unitM: M_PER_MILE, unit: 'mi' },
  ].map(({ unitM, unit }) => {
    const round = ROUND.findLast((one) => one * unitM * unitsPerM <= most) ?? ROUND[0] ?? 0.1;
    return { length: round * unitM * unitsPerM, text: `${round} ${unit}` };
  });
}
