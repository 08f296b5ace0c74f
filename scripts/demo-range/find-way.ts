import type { Spot } from './frame.ts';
import { MinHeap } from './heap.ts';
import { square } from './square.ts';
import { heightAt, type Terrain } from './terrain.ts';

/** How a way takes to the ground. */
export interface Habit {
  /** The grade at which it climbs where it may choose, rise over run: a trail zig-zags to keep it. */
  readonly steadyGrade: number;
  /** Above 0 it keeps to ridges and shoulders, below 0 to valleys. */
  readonly ridgeLove: number;
}

const CELL_M = 40;
const MARGIN_M = 1600;
const LEAST_FACTOR = 0.7;

// Sixteen ways to leave a cell, clockwise from north: sides, corners, and the knight's moves between them.
// biome-ignore format: half a compass a line
const MOVES: readonly (readonly [number, number])[] = [
  [0, -1], [1, -2], [1, -1], [2, -1], [1, 0], [2, 1], [1, 1], [1, 2],
  [0, 1], [-1, 2], [-1, 1], [-2, 1], [-1, 0], [-2, -1], [-1, -1], [-1, -2],
];

// What a turn costs, metres of level way, by eighths of a half turn: else a trail would zig-zag at every cell.
const TURN_M = [0, 3, 8, 18, 30, 40, 46, 50, 54];

interface Window {
  readonly columns: number;
  readonly rows: number;
  readonly west: number;
  readonly north: number;
  readonly heightsM: Float64Array;
  readonly factor: Float64Array;
}

/**
 * The least-cost way between two spots, as the corners of its line, both ends included.
 * Cost of a move is its length times 1 + (grade / steadyGrade)², so that the cheapest climb keeps the
 * steady grade (design); searched by A* over cells of 40 m and sixteen headings.
 */
export function findWay(terrain: Terrain, from: Spot, to: Spot, habit: Habit): Spot[] {
  const window = openWindow(terrain, from, to, habit);
  const { columns, rows, heightsM, factor } = window;
  const cellOf = (spot: Spot): number =>
    Math.round(spot.yM / CELL_M - window.north) * columns + Math.round(spot.xM / CELL_M - window.west);
  const start = cellOf(from);
  const goal = cellOf(to);
  const goalColumn = goal % columns;
  const goalRow = (goal - goalColumn) / columns;
  const cost = new Float64Array(columns * rows * 16).fill(Infinity);
  const cameFrom = new Int32Array(columns * rows * 16).fill(-1);
  const done = new Uint8Array(columns * rows * 16);
  const open = new MinHeap();
  for (let heading = 0; heading < 16; heading++) {
    cost[start * 16 + heading] = 0;
    open.push(0, start * 16 + heading);
  }
  let state = open.pop();
  for (; state >= 0 && state >> 4 !== goal; state = open.pop()) {
    if (done[state] === 1) continue;
    done[state] = 1;
    const cell = state >> 4;
    const heading = state & 15;
    const column = cell % columns;
    const row = (cell - column) / columns;
    for (let next = 0; next < 16; next++) {
      const [dColumn, dRow] = MOVES[next] ?? [0, 0];
      const c = column + dColumn;
      const r = row + dRow;
      if (c < 0 || r < 0 || c >= columns || r >= rows) continue;
      const there = r * columns + c;
      const lengthM = CELL_M * Math.sqrt(dColumn * dColumn + dRow * dRow);
      const grade = ((heightsM[there] ?? 0) - (heightsM[cell] ?? 0)) / lengthM;
      const turned = Math.abs(((next - heading + 24) & 15) - 8);
      const ground = ((factor[cell] ?? 1) + (factor[there] ?? 1)) / 2;
      const costThere =
        (cost[state] ?? 0) +
        lengthM * ground * (1 + square(grade / habit.steadyGrade)) +
        (TURN_M[turned] ?? 0);
      const nextState = there * 16 + next;
      if (costThere >= (cost[nextState] ?? 0)) continue;
      cost[nextState] = costThere;
      cameFrom[nextState] = state;
      const leftM = CELL_M * Math.sqrt(square(c - goalColumn) + square(r - goalRow));
      open.push(costThere + LEAST_FACTOR * leftM, nextState);
    }
  }
  if (state < 0) throw new RangeError('no way between the two spots');
  const spots: Spot[] = [to];
  for (let at = cameFrom[state] ?? -1; at >= 0 && at >> 4 !== start; at = cameFrom[at] ?? -1) {
    const column = (at >> 4) % columns;
    const row = ((at >> 4) - column) / columns;
    spots.push({ xM: (window.west + column) * CELL_M, yM: (window.north + row) * CELL_M });
  }
  spots.push(from);
  return spots.reverse();
}

/** Heights and the dearness of the ground over a window that holds both spots. */
function openWindow(terrain: Terrain, from: Spot, to: Spot, habit: Habit): Window {
  const west = Math.floor((Math.min(from.xM, to.xM) - MARGIN_M) / CELL_M);
  const north = Math.floor((Math.min(from.yM, to.yM) - MARGIN_M) / CELL_M);
  const columns = Math.ceil((Math.max(from.xM, to.xM) + MARGIN_M) / CELL_M) - west + 1;
  const rows = Math.ceil((Math.max(from.yM, to.yM) + MARGIN_M) / CELL_M) - north + 1;
  const heightsM = new Float64Array(columns * rows);
  const factor = new Float64Array(columns * rows);
  for (let i = 0; i < heightsM.length; i++) {
    const column = i % columns;
    const row = (i - column) / columns;
    heightsM[i] = heightAt(terrain, { xM: (west + column) * CELL_M, yM: (north + row) * CELL_M });
  }
  for (let i = 0; i < heightsM.length; i++) {
    const here = heightsM[i] ?? 0;
    const at = (dColumn: number, dRow: number): number => heightsM[i + dRow * columns + dColumn] ?? here;
    const fall = Math.sqrt(square(at(1, 0) - at(-1, 0)) + square(at(0, 1) - at(0, -1))) / (2 * CELL_M);
    // How far the cell stands above the ring 160 m around it, in units of 30 m, at most 1 either way.
    const above = (here - (at(4, 0) + at(-4, 0) + at(0, 4) + at(0, -4)) / 4) / 30;
    const ridge = 1 - habit.ridgeLove * Math.max(-1, Math.min(1, above));
    const wet = here <= 0 ? 50 : 1;
    factor[i] = Math.max(LEAST_FACTOR, ridge) * (1 + square(fall / 1.1)) * wet;
  }
  return { columns, rows, west, north, heightsM, factor };
}
