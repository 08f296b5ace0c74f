import type { Route } from '../route/describe-route.ts';
import type { Band } from '../route/gain.ts';
import type { UnitSystem } from '../units.ts';
import { climbText, durationText, heightText, lengthText, percentText } from './words.ts';

const SHAPE_TEXT = { outAndBack: 'out and back', loop: 'loop', oneWay: 'one way' } as const;

function bandText(band: Band | null, units: UnitSystem): string {
  if (band === null) return 'not known';
  return `${climbText(band.value, units)} (${climbText(band.low, units)} to ${climbText(band.high, units)})`;
}

/** What the terrain says of a route, each measure with its band and how it was found: name and value. */
export function measureRows(
  { measures, treeline }: Route,
  units: UnitSystem,
): readonly (readonly [name: string, value: string])[] {
  const exposure =
    measures.aboveTreelineM === null
      ? `unknown: ${treeline.text}`
      : `${lengthText(measures.aboveTreelineM, units)}, ${durationText(measures.aboveTreelineMin ?? 0)} by the trade rule`;
  const height = (metres: number | null) => (metres === null ? 'not known' : heightText(metres, units));
  return [
    [
      'distance',
      `${lengthText(measures.distanceM, units)}, ${SHAPE_TEXT[measures.shape]} (${measures.distanceMethod})`,
    ],
    ['climb', `${bandText(measures.gainM, units)} (${measures.gainMethod})`],
    ['descent', bandText(measures.lossM, units)],
    ['highest point', height(measures.highM)],
    [
      'steepest 200 m',
      measures.steepestSustainedRatio === null ? 'not known' : percentText(measures.steepestSustainedRatio),
    ],
    [
      'treeline',
      measures.treelineM === null ? 'not known' : `${height(measures.treelineM)} (${treeline.text})`,
    ],
    ['above treeline', exposure],
    ['heights known', `${percentText(Math.floor(measures.demCoverage * 100) / 100)} of the line`],
  ];
}
