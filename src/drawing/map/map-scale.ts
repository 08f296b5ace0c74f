import { nearestTurnDeg } from '../../earth/geodesic.ts';
import type { Lattice } from '../../terrain/lattice.ts';
import type { NetPoint } from './isolines.ts';

/** Width of a map in its own units; CSS pixels where it is shown at full size (design). */
const WIDTH = 720;

/** Where things lie on a map drawn north up, in its units from the top left. A plane of degrees, true in its middle. */
export function mapScale(lattice: Omit<Lattice, 'heightsM' | 'sourceIndexes'>) {
  const { columns, rows, eastM, southM, westDeg, northDeg, stepLonDeg, stepLatDeg } = lattice;
  const unitsPerM = WIDTH / ((columns - 1) * eastM);
  const [across, down] = [eastM * unitsPerM, southM * unitsPerM];
  const middleDeg = westDeg + (stepLonDeg * (columns - 1)) / 2;
  return {
    width: WIDTH,
    height: (rows - 1) * down,
    unitsPerM,
    ofNet: ([x, y]: NetPoint): NetPoint => [x * across, y * down],
    /** From a place on Earth, whatever turn its longitude is in. */
    ofPlace: (lonDeg: number, latDeg: number): NetPoint => [
      ((nearestTurnDeg(lonDeg, middleDeg) - westDeg) / stepLonDeg) * across,
      ((northDeg - latDeg) / stepLatDeg) * down,
    ],
    perDegLon: across / stepLonDeg,
    perDegLat: down / stepLatDeg,
  };
}

export type MapScale = ReturnType<typeof mapScale>;
