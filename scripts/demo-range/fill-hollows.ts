import { MinHeap } from './heap.ts';

/**
 * Raises every hollow of a grid to its lowest outlet, in place, so that all ground drains to the edge
 * or to ground at 0 m. With `riseM` above 0 the filled floor also falls towards the outlet.
 * Priority flood [Barnes2014] Priority-flood, Computers & Geosciences 62:117-127, algorithm 1, from memory.
 */
export function fillHollows(
  heightsM: Float32Array | Int16Array,
  columns: number,
  rows: number,
  riseM: number,
): void {
  const seen = new Uint8Array(columns * rows);
  const open = new MinHeap();
  for (let i = 0; i < seen.length; i++) {
    const column = i % columns;
    const onEdge = column === 0 || column === columns - 1 || i < columns || i >= seen.length - columns;
    if (!onEdge && (heightsM[i] ?? 0) > 0) continue;
    seen[i] = 1;
    // Sea in the middle of the sea need not wait in the heap: its neighbours are seeds themselves.
    if (onEdge || touchesLand(heightsM, columns, i)) open.push(heightsM[i] ?? 0, i);
  }
  for (let i = open.pop(); i >= 0; i = open.pop()) {
    const heightM = heightsM[i] ?? 0;
    const column = i % columns;
    for (let dRow = -1; dRow <= 1; dRow++) {
      for (let dColumn = -1; dColumn <= 1; dColumn++) {
        const j = i + dRow * columns + dColumn;
        if (column + dColumn < 0 || column + dColumn >= columns || j < 0 || j >= seen.length) continue;
        if (seen[j] === 1) continue;
        seen[j] = 1;
        if ((heightsM[j] ?? 0) < heightM + riseM) heightsM[j] = heightM + riseM;
        open.push(heightsM[j] ?? 0, j);
      }
    }
  }
}

function touchesLand(heightsM: Float32Array | Int16Array, columns: number, i: number): boolean {
  for (const step of [-columns - 1, -columns, -columns + 1, -1, 1, columns - 1, columns, columns + 1]) {
    if ((heightsM[i + step] ?? 0) > 0) return true;
  }
  return false;
}
