import { lacksOf } from '../../rank/route-lacks.ts';
import type { Route } from '../../route/describe-route.ts';
import { climbText, heightText, lengthText, percentText } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';

export function lackingOf({ attributes, measures }: Route): string[] {
  const { treelineSource, aboveTreelineM, demCoverage } = measures;
  const lacking = lacksOf(attributes, treelineSource === 'unknown' && aboveTreelineM === null);
  const known = percentText(Math.floor(demCoverage * 100) / 100);
  return demCoverage < 1 ? [...lacking, `heights known for ${known} of the line`] : lacking;
}

export const figuresOf = ({ measures: { distanceM, gainM, highM } }: Route, units: UnitSystem) => ({
  length: lengthText(distanceM, units),
  climb: gainM === null ? 'not known' : climbText(gainM.value, units),
  top: highM === null ? 'not known' : heightText(highM, units),
});
