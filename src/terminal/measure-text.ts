import { climbText, durationText, heightText, lengthText, percentText } from '../fit/words.ts';
import type { Route } from '../route/describe-route.ts';
import type { Band } from '../route/gain.ts';
import type { UnitSystem } from '../units.ts';
import { wrapped } from './table.ts';

const SHAPE_TEXT = { outAndBack: 'out and back', loop: 'loop', oneWay: 'one way' } as const;

function bandText(band: Band, units: UnitSystem): string {
  return `${climbText(band.value, units)} (${climbText(band.low, units)} to ${climbText(band.high, units)})`;
}

/** What the terrain says of a route, for people. */
export function measureText(route: Route, units: UnitSystem): string {
  const { measures } = route;
  const exposure =
    measures.aboveTreelineM === null
      ? `unknown: ${route.treeline.text}`
      : `${lengthText(measures.aboveTreelineM, units)}, ${durationText(measures.aboveTreelineMin ?? 0)} by the trade rule`;
  const treeline =
    measures.treelineM === null
      ? 'not known'
      : `${heightText(measures.treelineM, units)} (${route.treeline.text})`;
  const lines = [
    route.name,
    `  distance         ${lengthText(measures.distanceM, units)}, ${SHAPE_TEXT[measures.shape]} (${measures.distanceMethod})`,
    `  climb            ${measures.gainM === null ? 'not known' : bandText(measures.gainM, units)} (${measures.gainMethod})`,
    `  descent          ${measures.lossM === null ? 'not known' : bandText(measures.lossM, units)}`,
    `  highest point    ${measures.highM === null ? 'not known' : heightText(measures.highM, units)}`,
    `  steepest 200 m   ${measures.steepestSustainedRatio === null ? 'not known' : percentText(measures.steepestSustainedRatio)}`,
    `  treeline         ${treeline}`,
    `  above treeline   ${exposure}`,
    `  heights known    ${percentText(Math.floor(measures.demCoverage * 100) / 100)} of the line`,
    ...route.notes.map((note) => wrapped(`${note.code}: ${note.text}`, '  note  ', 100, '        ')),
  ];
  return lines.join('\n');
}
