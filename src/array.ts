/**
 * The value at a place of an array that must have one. A read outside is our own mistake and says so,
 * where `array[index] ?? 0` would go on with a value that looks right.
 */
export function at<T>(array: ArrayLike<T>, index: number): T {
  const value = array[index];
  if (value === undefined && !(Number.isInteger(index) && index >= 0 && index < array.length)) {
    throw new RangeError(`no element ${index} in an array of ${array.length}`);
  }
  return value as T;
}

/** The last value of an array that must have one. */
export const last = <T>(array: ArrayLike<T>): T => at(array, array.length - 1);
