import type { RouteMeasures } from '../route/describe-route.ts';
import * as t from '../schema.ts';
import { DISTANCE_METHOD, gainMethodText } from '../text/measure-words.ts';
import { placesOrNull, tenthOrNull, tenths } from './rounded.ts';

const band = t.closed({ value: t.number, low: t.number, high: t.number });
const interval = t.closed({ low: t.number, high: t.number });

/** A route's measures with their methods in words: metres and minutes; null is "not known". */
export const measuresSchema = t.closed({
  distanceM: t.number,
  gainM: t.orNull(band),
  lossM: t.orNull(band),
  highM: t.numberOrNull,
  lowM: t.numberOrNull,
  shape: t.oneOf(['outAndBack', 'loop', 'oneWay']),
  aboveTreelineM: t.numberOrNull,
  aboveTreelineMin: t.numberOrNull,
  aboveTreelineRangeM: t.orNull(interval),
  aboveTreelineRangeMin: t.orNull(interval),
  treelineM: t.numberOrNull,
  treelineSource: t.oneOf(['route', 'program', 'region', 'unknown']),
  steepestSustainedRatio: t.numberOrNull,
  steepestSustainedFromM: t.numberOrNull,
  steepGround: t.orNull(
    t.closed({
      stretches: t.list(
        t.closed({
          fromM: t.number,
          toM: t.number,
          onDeg: t.numberOrNull,
          besideDeg: t.numberOrNull,
          aboveDeg: t.numberOrNull,
        }),
      ),
      fromDeg: t.number,
      line50Deg: t.numberOrNull,
      line50AtM: t.numberOrNull,
      steepLineM: t.numberOrNull,
      knownShare: t.number,
    }),
  ),
  recorded: t.orNull(t.closed({ gainM: t.number, lossM: t.number })),
  demCoverage: t.number,
  distanceMethod: t.text,
  gainMethod: t.text,
});

type MeasuresView = t.Shaped<typeof measuresSchema>;

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
      stretches: tenths(steepGround.stretches),
      fromDeg: steepGround.fromDeg,
      line50Deg: tenthOrNull(steepGround.line50Deg ?? null),
      line50AtM: tenthOrNull(steepGround.line50AtM ?? null),
      steepLineM: tenthOrNull(steepGround.steepLineM ?? null),
      knownShare: share(steepGround.knownShare),
    },
    recorded: tenths(recorded),
    demCoverage: share(measures.demCoverage),
    distanceMethod: DISTANCE_METHOD,
    gainMethod: gainMethodText(gainMethod, 'metric'),
  };
}
