import type { Spot } from './frame.ts';
import { wander } from './line.ts';
import type { Random } from './random.ts';
import { heightAt, type Terrain } from './terrain.ts';

/** A spot as a receiver wrote it down, with its height in metres. */
export interface Fix extends Spot {
  readonly heightM: number;
}

// Invented receiver: about 3 m off in all, an error that fades over 60 m of way; heights 2.5 m and a fixed error.
const AXIS_SPREAD_M = 2.1;
const AXIS_REACH_M = 60;
const HEIGHT_SPREAD_M = 1.2;
const HEIGHT_REACH_M = 150;

/** A receiver: gives each true spot, `stepM` after the last one, with its own wandering error. */
export function receiver(terrain: Terrain, random: Random): (spot: Spot, stepM: number) => Fix {
  const east = wander(random, AXIS_SPREAD_M, AXIS_REACH_M);
  const south = wander(random, AXIS_SPREAD_M, AXIS_REACH_M);
  const up = wander(random, HEIGHT_SPREAD_M, HEIGHT_REACH_M);
  const fixedErrorM = 2 * random.normal();
  return (spot, stepM) => {
    const fix = { xM: spot.xM + east(stepM), yM: spot.yM + south(stepM) };
    return { ...fix, heightM: heightAt(terrain, spot) + fixedErrorM + up(stepM) };
  };
}
