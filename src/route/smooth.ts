import { at, last } from '../array.ts';

/**
 * Centred mean over `windowM` of equally spaced heights; the window shrinks towards the ends, so the first and
 * last height stay as they are. Symmetric: smoothing and reversing can be swapped.
 *
 * @param heightsM heights in metres, none missing
 * @param spacingM distance between neighbours, metres
 */
export function smooth(heightsM: readonly number[], spacingM: number, windowM: number): number[] {
  const half = Math.max(0, Math.round((windowM / spacingM - 1) / 2));
  if (half === 0) return [...heightsM];
  const sums = [0];
  for (const height of heightsM) sums.push(last(sums) + height);
  return heightsM.map((_, i) => {
    const reach = Math.min(half, i, heightsM.length - 1 - i);
    return (at(sums, i + reach + 1) - at(sums, i - reach)) / (2 * reach + 1);
  });
}
