import type { RouteMeasures } from '../route/describe-route.ts';
import { closed, list, number, numberOrNull, oneOf, orNull, type Shaped, text } from '../schema.ts';
import { DISTANCE_METHOD, gainMethodText } from '../text/measure-words.ts';
import { placesOrNull, tenthOrNull, tenths } from './rounded.ts';

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

/** Shares of a line are rounded down: one with a hole in it is never shown as fully covered. */
const share = (value: number): number => Math.floor(value * 1e4) / 1e4;

/** Measures as they are sent: metres and minutes to a tenth, shares to four places. */
export function roundedMeasures(measures: RouteMeasures): MeasuresView {
  const { gainMethod, ...figures } = measures;
  // What a route measured by an earlier version lacks is not known until it is measured again.
  const { steepestSustainedFromM = null, steepGround = null, recorded = null } = measures;
  return {
    ...tenths(figures),
    treelineM: measures.treelineM,
    steepestSustainedRatio: placesOrNull(measures.steepestSustainedRatio, 4),
    steepestSustainedFromM: tenthOrNull(steepestSustainedFromM),
    steepGround: steepGround && {
      ...tenths(steepGround),
      fromDeg: steepGround.fromDeg,
      knownShare: share(steepGround.knownShare),
    },
    recorded: tenths(recorded),
    demCoverage: share(measures.demCoverage),
    distanceMethod: DISTANCE_METHOD,
    gainMethod: gainMethodText(gainMethod, 'metric'),
  };
}
