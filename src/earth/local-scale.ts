// EPSG:7030, WGS 84.
const A_M = 6_378_137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);
const RAD_PER_DEG = Math.PI / 180;

/** Metres of one degree, north–south and east–west, at a latitude. */
export interface LocalScale {
  readonly mPerDegLat: number;
  readonly mPerDegLon: number;
}

/**
 * Length of a degree on the ellipsoid at a latitude, for offsets of some tens of metres.
 * [Snyder1987] USGS Professional Paper 1395, eqs. 4-18 and 4-20 (numbers from memory): radii of curvature
 * along the meridian and across it. At 100 m the plane is off by less than a millimetre.
 * @example localScale(0).mPerDegLon // 111319.49
 */
export function localScale(latDeg: number): LocalScale {
  const phi = latDeg * RAD_PER_DEG;
  const sin = Math.sin(phi);
  const w2 = 1 - E2 * sin * sin;
  const crossM = A_M / Math.sqrt(w2);
  const meridianM = (crossM * (1 - E2)) / w2;
  return { mPerDegLat: meridianM * RAD_PER_DEG, mPerDegLon: crossM * Math.cos(phi) * RAD_PER_DEG };
}
