/**
 * Every limit of the reader in one place. All are design values unless a line says otherwise:
 * they bound the cost of a hostile file and sit far above any walked day.
 */
export const INGEST_LIMITS = Object.freeze({
  /** About 106,000 GPX points at 99 bytes each. */
  bodyBytes: 10 * 1024 * 1024,
  pointsPerRoute: 100_000,
  pointsPerFile: 200_000,
  segmentsPerRoute: 1_000,
  routesPerFile: 50,
  waypointsPerFile: 1_000,

  /** A full file of timed points has about 320,000. */
  xmlElements: 600_000,
  xmlDepth: 32,
  xmlAttributes: 64,
  /** One text node or one attribute value, UTF-16 units. */
  xmlTextLength: 64 * 1024,
  jsonDepth: 32,
  /** Objects and lists together: 200,000 positions and twice as many for everything else. */
  jsonContainers: 600_000,

  /** Code points after Unicode normalisation and trimming. */
  nameLength: 200,
  /** NAME.route.json and cohort files, UTF-16 units. */
  sideFileLength: 1024 * 1024,

  routeMaxM: 500_000,
  /** Under this a note asks whether the line is whole; a short training hill is a real outing. */
  routeShortM: 1_000,
  boxMaxDeg: 10,

  /** Coordinates are rounded to this: 1e-7 degrees is 11 mm. */
  coordinateDecimals: 7,
  /** GeoJSON longitudes may run past 180 where a line was unwrapped; never a full turn further. */
  longitudeMaxDeg: 360,
  /** Outside the Earth's own range (about -11 km to 8.85 km) with room: a written height beyond is no height. */
  elevationMaxAbsM: 12_000,

  gapJoinM: 50,
  gapLoudM: 2_000,

  /** A step over `jumpM` in a line whose median step is under `jumpSpacingM` is a bad fix. */
  jumpM: 500,
  jumpSpacingM: 50,
  /** In a coarser line a step is one over so many median steps (and over `jumpM`). */
  jumpTimesSpacing: 25,
  /** Longest straight leg that a drawn, otherwise dense line may hold. */
  drawnLegMaxM: 2_000,
  /** At most this share of a route's points (and always one) may be dropped as bad fixes. */
  jumpShare: 0.01,
  /** At most this share of a route's points may lie at exactly 0,0. */
  zeroShare: 0.01,

  coarseSpacingM: 250,
});
