/** Steps in which what is sorted by is first compared, and things at most: class, step and place fit in 53 bits. */
const STEPS = 2 ** 33;
const MOST = 2 ** 17;

/**
 * Puts places in order: by class (0 to 7, lower first), then by how far behind (0 to 1), and where that is the same
 * within 2⁻³³ by `compare`, the whole rule. Numbers that hold all three are sorted at once, many times quicker than
 * asking `compare` each time. Beyond 131,072 places `compare` is asked.
 */
export type PackedSort = (
  classes: Uint8Array,
  behind: Float64Array,
  compare: (a: number, b: number) => number,
  order: Uint32Array,
) => void;

/** A sort of so many places, to be used again and again. */
export function packedSort(size: number): PackedSort {
  if (size > MOST) {
    return (_classes, _behind, compare, order) => {
      for (let i = 0; i < size; i += 1) order[i] = i;
      order.sort(compare);
    };
  }
  const keys = new Float64Array(size);
  return (classes, behind, compare, order) => {
    for (let i = 0; i < size; i += 1) {
      const step = Math.floor((behind[i] ?? 0) * (STEPS - 1));
      keys[i] = ((classes[i] ?? 0) * STEPS + step) * MOST + i;
    }
    keys.sort();
    let from = 0;
    let stepFrom = -1;
    for (let place = 0; place <= size; place += 1) {
      const key = keys[place] ?? Number.POSITIVE_INFINITY;
      const step = Math.floor(key / MOST);
      if (step !== stepFrom) {
        if (place - from > 1) order.subarray(from, place).sort(compare);
        from = place;
        stepFrom = step;
      }
      if (place < size) order[place] = key - step * MOST;
    }
  };
}
