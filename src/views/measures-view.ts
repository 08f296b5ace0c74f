import type { RouteMeasures } from '../route/describe-route.ts';
import type { Band } from '../route/gain.ts';
import type { SteepGround } from '../route/steep-ground.ts';
import { closed, list, number, numberOrNull, oneOf, orNull, type Shaped, text } from '../schema.ts';
import { DISTANCE_METHOD, gainMethodText } from '../text/measure-words.ts';
import { placesOrNull, tenth, tenthOrNull } from './rounded.ts';

const band = closed({ value: number, low: number, high: number });
const interval = closed({ low: number, high: number });

/** A route's measures with their methods in words: metres and minutes; null is "not known". */
export const measuresSchema = closed({
  distanceM: number,
  gainM: orNull(band),
  lossM: orNull(band),
  highM: numberOrNull,
  lowM: numberOrNull,
  shape: oneOf(['outAndBack', 'loop', 'oneWay']),
  aboveTreelineM: numberOrNull,
  aboveTreelineMin: numberOrNull,
  aboveTreelineRangeM: orNull(interval),
  aboveTreelineRangeMin: orNull(interval),
  treelineM: numberOrNull,
  treelineSource: oneOf(['route', 'program', 'region', 'unknown']),
  steepestSustainedRatio: numberOrNull,
  steepestSustainedFromM: numberOrNull,
  steepGround: orNull(
    closed({
      stretches: list(
        closed({
          fromM: number,
          toM: number,
          onDeg: numberOrNull,
          besideDeg: numberOrNull,
          aboveDeg: numberOrNull,
        }),
      ),
      fromDeg: number,
      steepest50Deg: numberOrNull,
      steepest50AtM: numberOrNull,
      knownShare: number,
    }),
  ),
  recorded: orNull(closed({ gainM: number, lossM: number })),
  demCoverage: number,
  distanceMethod: text,
  gainMethod: text,
});

type MeasuresView = Shaped<typeof measuresSchema>;

function roundedBand(of: Band | null): Band | null {
  return of === null ? null : { value: tenth(of.value), low: tenth(of.low), high: tenth(of.high) };
}

function roundedSteep(ground: SteepGround | null): SteepGround | null {
  if (ground === null) return null;
  return {
    ...ground,
    stretches: ground.stretches.map(({ fromM, toM, onDeg, besideDeg, aboveDeg }) => ({
      fromM: tenth(fromM),
      toM: tenth(toM),
      onDeg: tenthOrNull(onDeg),
      besideDeg: tenthOrNull(besideDeg),
      aboveDeg: tenthOrNull(aboveDeg),
    })),
    steepest50Deg: tenthOrNull(ground.steepest50Deg),
    steepest50AtM: tenthOrNull(ground.steepest50AtM),
    knownShare: Math.floor(ground.knownShare * 1e4) / 1e4,
  };
}

/** Measures as they are sent: metres and minutes to a tenth, shares to four places. */
export function roundedMeasures(measures: RouteMeasures): MeasuresView {
  const range = (interval: RouteMeasures['aboveTreelineRangeM']) =>
    interval === null ? null : { low: tenth(interval.low), high: tenth(interval.high) };
  const { gainMethod, ...figures } = measures;
  return {
    ...figures,
    distanceM: tenth(measures.distanceM),
    gainM: roundedBand(measures.gainM),
    lossM: roundedBand(measures.lossM),
    highM: tenthOrNull(measures.highM),
    lowM: tenthOrNull(measures.lowM),
    aboveTreelineM: tenthOrNull(measures.aboveTreelineM),
    aboveTreelineMin: tenthOrNull(measures.aboveTreelineMin),
    aboveTreelineRangeM: range(measures.aboveTreelineRangeM),
    aboveTreelineRangeMin: range(measures.aboveTreelineRangeMin),
    steepestSustainedRatio: placesOrNull(measures.steepestSustainedRatio, 4),
    // What a route measured by an earlier version lacks is not known until it is measured again.
    steepestSustainedFromM: tenthOrNull(measures.steepestSustainedFromM ?? null),
    steepGround: roundedSteep(measures.steepGround ?? null),
    recorded:
      measures.recorded == null
        ? null
        : { gainM: tenth(measures.recorded.gainM), lossM: tenth(measures.recorded.lossM) },
    // Rounded down: a line with a hole in it is never shown as fully covered.
    demCoverage: Math.floor(measures.demCoverage * 1e4) / 1e4,
    distanceMethod: DISTANCE_METHOD,
    gainMethod: gainMethodText(gainMethod, 'metric'),
  };
}
