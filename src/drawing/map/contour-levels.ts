import { last } from '../../array.ts';
import { M_PER_FT, type UnitSystem } from '../../units.ts';

/** Intervals of contours as maps have them, in metres or feet (common practice, no source). */
const INTERVALS: Readonly<Record<UnitSystem, readonly number[]>> = {
  metric: [5, 10, 20, 50, 100, 200, 500],
  us: [20, 40, 100, 200, 500, 1000, 2000],
};
/** More lines than this between the lowest and highest ground make a map grey (design). */
const MOST_LINES = 34;
/** Every so manieth line is heavier and has its height. */
const INDEX_EVERY = 5;

const NUMBER = new Intl.NumberFormat('en');

/** The heights at which contours are drawn between two heights, the interval chosen by the relief. */
export function contourLevels(lowM: number, highM: number, units: UnitSystem) {
  const unitM = units === 'us' ? M_PER_FT : 1;
  const [low, high] = [lowM / unitM, highM / unitM];
  const offered = INTERVALS[units];
  const interval = offered.find((one) => (high - low) / one <= MOST_LINES) ?? last(offered);
  const levels: { heightM: number; text: string; isIndex: boolean }[] = [];
  for (let n = Math.floor(low / interval) + 1; n * interval < high; n += 1) {
    levels.push({
      heightM: n * interval * unitM,
      text: NUMBER.format(n * interval),
      isIndex: n % INDEX_EVERY === 0,
    });
  }
  return { intervalText: `${NUMBER.format(interval)} ${units === 'us' ? 'ft' : 'm'}`, levels };
}
