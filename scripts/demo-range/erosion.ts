import { fillHollows } from './fill-hollows.ts';
import { square } from './square.ts';

// Larger streams cut no faster: keeps valley floors rising inland instead of at sea level to the divide (design).
const LARGEST_STREAM_M2 = 2_000_000;

/** A grid of land that rivers cut into. One value a cell, rows from the north. */
export interface ErodingGrid {
  readonly columns: number;
  readonly rows: number;
  readonly columnM: number;
  readonly rowM: number;
  /** Changed in place. */
  readonly heightsM: Float32Array;
  /** 1 where the cell is sea and stays at 0 m. */
  readonly sea: Uint8Array;
  /** How readily water cuts the ground; 1 is the usual rock. */
  readonly softness: Float32Array;
  /** The steepest a slope stands before it slides, rise over run. */
  readonly slopeLimit: Float32Array;
}

/**
 * Lets rivers cut the ground for a number of steps, and soil creep round it off.
 * Stream power with exponents m = 0.5, n = 1, solved implicitly from the outlets up:
 * [Braun2013] A very efficient O(n) … method, Geomorphology 180-181:170-179, eq. 23, from memory.
 * Slopes above the limit slide down to it. Shapes that look right are the aim, not years.
 */
export function erode(grid: ErodingGrid, steps: number, cutting: number, creep: number): void {
  const { columns, rows, heightsM, sea } = grid;
  const count = columns * rows;
  const receiver = new Int32Array(count);
  const awayM = new Float32Array(count);
  const areaM2 = new Float32Array(count);
  const order = new Int32Array(count);
  const firstDonor = new Int32Array(count);
  const nextDonor = new Int32Array(count);
  for (let step = 0; step < steps; step++) {
    if (step % 10 === 0) fillHollows(heightsM, columns, rows, 0.01);
    findReceivers(grid, step, receiver, awayM);
    orderFromOutlets(receiver, firstDonor, nextDonor, order);
    areaM2.fill(grid.columnM * grid.rowM);
    for (let k = count - 1; k >= 0; k--) {
      const i = order[k] ?? 0;
      const to = receiver[i] ?? i;
      if (to !== i) areaM2[to] = (areaM2[to] ?? 0) + (areaM2[i] ?? 0);
    }
    for (let k = 0; k < count; k++) {
      const i = order[k] ?? 0;
      if (sea[i] === 1) continue;
      const to = receiver[i] ?? i;
      if (to === i) continue;
      const runM = awayM[i] ?? 1;
      const belowM = heightsM[to] ?? 0;
      const cut =
        (cutting * (grid.softness[i] ?? 1) * Math.sqrt(Math.min(areaM2[i] ?? 0, LARGEST_STREAM_M2))) / runM;
      const cutM = ((heightsM[i] ?? 0) + cut * belowM) / (1 + cut);
      const standsM = belowM + (grid.slopeLimit[i] ?? 1) * runM;
      heightsM[i] = Math.min(cutM, standsM);
    }
    soften(grid, creep);
  }
}

/** Moves each land height a share of the way to the mean of its four neighbours. */
function soften(grid: ErodingGrid, share: number): void {
  const { columns, rows, heightsM, sea } = grid;
  const before = heightsM.slice();
  for (let row = 1; row < rows - 1; row++) {
    for (let i = row * columns + 1; i < (row + 1) * columns - 1; i++) {
      if (sea[i] === 1) continue;
      const around =
        (before[i - 1] ?? 0) + (before[i + 1] ?? 0) + (before[i - columns] ?? 0) + (before[i + columns] ?? 0);
      heightsM[i] = (before[i] ?? 0) * (1 - share) + (around / 4) * share;
    }
  }
}

/** A number in [0.6, 1.4) that differs from cell to cell, way to way and step to step. */
function jitter(cell: number, way: number, step: number): number {
  let h = Math.imul(cell, 0x27d4eb2d) ^ Math.imul(way + 8 * step, 0x165667b1);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return 0.6 + ((h ^ (h >>> 16)) >>> 0) * (0.8 / 4294967296);
}

/**
 * About the steepest way down from each cell, and how far it is; a cell without one receives itself.
 * The choice is jittered, or water would run in eight straight directions only.
 */
function findReceivers(grid: ErodingGrid, step: number, receiver: Int32Array, awayM: Float32Array): void {
  const { columns, rows, heightsM, sea } = grid;
  const diagonalM = Math.sqrt(square(grid.columnM) + square(grid.rowM));
  const steps = [-columns - 1, -columns, -columns + 1, -1, 1, columns - 1, columns, columns + 1];
  const runsM = [
    diagonalM,
    grid.rowM,
    diagonalM,
    grid.columnM,
    grid.columnM,
    diagonalM,
    grid.rowM,
    diagonalM,
  ];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const i = row * columns + column;
      receiver[i] = i;
      if (sea[i] === 1 || row === 0 || row === rows - 1 || column === 0 || column === columns - 1) continue;
      let steepest = 0;
      for (let k = 0; k < 8; k++) {
        const j = i + (steps[k] ?? 0);
        const runM = runsM[k] ?? 1;
        const dropM = (heightsM[i] ?? 0) - (heightsM[j] ?? 0);
        if (dropM <= 0) continue;
        const slope = (dropM / runM) * jitter(i, k, step);
        if (slope <= steepest) continue;
        steepest = slope;
        receiver[i] = j;
        awayM[i] = runM;
      }
    }
  }
}

/** Every cell after the cell that receives its water. */
function orderFromOutlets(
  receiver: Int32Array,
  firstDonor: Int32Array,
  nextDonor: Int32Array,
  order: Int32Array,
): void {
  firstDonor.fill(-1);
  let size = 0;
  for (let i = 0; i < receiver.length; i++) {
    const to = receiver[i] ?? i;
    if (to === i) {
      order[size++] = i;
    } else {
      nextDonor[i] = firstDonor[to] ?? -1;
      firstDonor[to] = i;
    }
  }
  for (let k = 0; k < size; k++) {
    for (let donor = firstDonor[order[k] ?? 0] ?? -1; donor >= 0; donor = nextDonor[donor] ?? -1) {
      order[size++] = donor;
    }
  }
}
