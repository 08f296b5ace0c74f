import { attributionOf, sourcesView } from '../route/attribution.ts';
import type { Route, RouteMeasures } from '../route/describe-route.ts';
import type { Band } from '../route/gain.ts';
import type { RecordedGain } from '../route/recorded-gain.ts';
import type { UnitSystem } from '../units.ts';
import { metresAsFine } from './fine-length.ts';
import { steepGroundText } from './steep-ground-text.ts';
import { climbText, durationText, heightText, lengthText, percentText, stepText } from './words.ts';

const SHAPE_TEXT = { outAndBack: 'out and back', loop: 'loop', oneWay: 'one way' } as const;

/** How distances are measured, for people. */
export const DISTANCE_METHOD = 'along the line as drawn, on the WGS 84 ellipsoid, on the plan';

/** How a climb was computed, for people. */
export function gainMethodText(method: RouteMeasures['gainMethod'], units: UnitSystem): string {
  if (typeof method === 'string') return method;
  const { spacingM, windowM, turningPointM } = method;
  return `heights every ${metresAsFine(spacingM, units)}, ${metresAsFine(windowM, units)} window, turning points of ${metresAsFine(Math.round(turningPointM), units)} on the level`;
}

/** A climb with its band: `560 m (520 m to 600 m)`. */
export function bandText(band: Band | null, units: UnitSystem): string {
  if (band === null) return 'not known';
  return `${climbText(band.value, units)} (${climbText(band.low, units)} to ${climbText(band.high, units)})`;
}

/** The second reading, and what it is worth. */
function recordedText({ measures, notes }: Route, { gainM, lossM }: RecordedGain, units: UnitSystem): string {
  const { gainM: ours } = measures;
  const figures = `climb ${climbText(gainM, units)}, descent ${climbText(lossM, units)}`;
  const doubts = notes.filter(({ code }) => code.startsWith('ele-'));
  if (doubts.some(({ code }) => code !== 'ele-looks-ellipsoidal')) {
    return `${figures}: of no use, see the notes`;
  }
  if (ours === null) return `${figures}; not used`;
  if (gainM > ours.high) return `${figures}: over the band above. Recorded heights wander; not used`;
  if (gainM < ours.low)
    return `${figures}: under the band above. The file may be smoothed, or the line off; not used`;
  return `${figures}: within the band above; not used`;
}

/** Stretches that are named of a tile; where tiles change more often, the others are counted. */
const MOST_SPANS = 6;

/** The tiles that gave the heights, how fine and of when they are, and where along the route each one stands. */
function tileTexts(route: Route, units: UnitSystem): string[] {
  return sourcesView(route).map(({ tile, postingM, date, share, spansM }) => {
    const told = [
      postingM === null ? null : `a height every ${stepText(postingM, units)}`,
      date === null ? 'date not stated' : `of ${date}`,
    ].filter((part) => part !== null);
    const spans = spansM
      .slice(0, MOST_SPANS)
      .map(([from, to]) => `${lengthText(from, units)} to ${lengthText(to, units)}`);
    const more = spansM.length - spans.length;
    const where = [...spans, ...(more > 0 ? [`${more} more`] : [])].join(', ');
    return `${tile} (${told.join(', ')}): ${share === 1 ? 'all of the line' : where}`;
  });
}

/** What the terrain says of a route, each measure with its band and how it was found: name and value. */
export function measureRows(
  route: Route,
  units: UnitSystem,
): readonly (readonly [name: string, value: string])[] {
  const { measures, treeline } = route;
  const { recorded, steepestSustainedFromM } = measures;
  const from =
    steepestSustainedFromM == null ? '' : `, ${lengthText(steepestSustainedFromM, units)} from the start`;
  const exposure =
    measures.aboveTreelineM === null
      ? `unknown: ${treeline.text}`
      : `${lengthText(measures.aboveTreelineM, units)}, ${durationText(measures.aboveTreelineMin ?? 0)} by the trade rule`;
  const height = (metres: number | null) => (metres === null ? 'not known' : heightText(metres, units));
  return [
    [
      'distance',
      `${lengthText(measures.distanceM, units)}, ${SHAPE_TEXT[measures.shape]} (${DISTANCE_METHOD})`,
    ],
    ['climb', `${bandText(measures.gainM, units)} (${gainMethodText(measures.gainMethod, units)})`],
    ['descent', bandText(measures.lossM, units)],
    ...(recorded === null ? [] : [['file’s heights', recordedText(route, recorded, units)] as const]),
    ['highest point', height(measures.highM)],
    [
      `steepest ${stepText(200, units)}`,
      measures.steepestSustainedRatio === null
        ? 'not known'
        : `${percentText(measures.steepestSustainedRatio)}${from}`,
    ],
    ['steep ground', steepGroundText(measures.steepGround, units) ?? 'not known'],
    [
      'treeline',
      measures.treelineM === null ? 'not known' : `${height(measures.treelineM)} (${treeline.text})`,
    ],
    ['above treeline', exposure],
    ['heights known', `${percentText(Math.floor(measures.demCoverage * 100) / 100)} of the line`],
    ...tileTexts(route, units).map((words) => ['tile', words] as const),
    ...attributionOf([route]).map((words) => ['heights from', words] as const),
  ];
}
