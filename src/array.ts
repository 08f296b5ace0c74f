/**
 * The value at a place of an array that must have one. A read outside is our own mistake and says so,
 * where `array[index] ?? 0` would go on with a value that looks right.
 */
export function at<T>(array: ArrayLike<T>, index: number): T {
  const value = array[index];
  if (value === undefined && !(Number.isInteger(index) && index >= 0 && index < array.length)) {
    throw outside(array, index);
  }
  return value as T;
}

/** The same of a column of numbers: one kind of array alone is read several times faster (`bench:rank`). */
export function numberAt(column: Float64Array, index: number): number {
  const value = column[index];
  if (value === undefined) throw outside(column, index);
  return value;
}

const outside = (array: ArrayLike<unknown>, index: number) =>
  new RangeError(`no element ${index} in an array of ${array.length}`);

/** The last value of an array that must have one. */
export const last = <T>(array: ArrayLike<T>): T => at(array, array.length - 1);

const rising = (values: ArrayLike<number>): Float64Array => Float64Array.from(values).sort();

/** The middle of at least one number, of an even count the upper of the two. */
export function upperMedian(values: ArrayLike<number>): number {
  return at(rising(values), values.length >> 1);
}

/** The middle of at least one number, of an even count the mean of the two. */
export function median(values: ArrayLike<number>): number {
  const sorted = rising(values);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? at(sorted, middle) : (at(sorted, middle - 1) + at(sorted, middle)) / 2;
}

/** The mean of values by their weights; `null` where nothing weighs. */
export function weightedMean(values: readonly (readonly [value: number, weight: number])[]): number | null {
  const whole = values.reduce((sum, [, weight]) => sum + weight, 0);
  return whole > 0 ? values.reduce((sum, [value, weight]) => sum + value * weight, 0) / whole : null;
}

/** The item with the greatest value, of equal ones the first; `null`: there is none. */
export function greatestBy<T>(items: Iterable<T>, by: (item: T) => number): T | null {
  let found: T | null = null;
  let most = Number.NEGATIVE_INFINITY;
  for (const item of items) {
    const value = by(item);
    if (found !== null && !(value > most)) continue;
    found = item;
    most = value;
  }
  return found;
}

/** The greatest of what is known; `null`: nothing is. */
export const greatestKnown = (values: readonly (number | null)[]): number | null =>
  greatestBy(
    values.filter((value) => value !== null),
    (value) => value,
  );
