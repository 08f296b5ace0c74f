import { lacksOf } from '../../rank/route-lacks.ts';
import type { StoredRoute } from '../../storage/routes.ts';
import { climbText, heightText, lengthText, percentText, stepText } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import type { RouteFormView } from '../route-form/view.tsx';
import type { RouteRow } from './view.tsx';

/** What is wanting of a route, or doubtful, for its row in the table. */
function lackingOf({ route: { attributes, measures } }: StoredRoute): string[] {
  const lacking = lacksOf(
    attributes,
    measures.treelineSource === 'unknown' && measures.aboveTreelineM === null,
  );
  if (measures.demCoverage < 1)
    lacking.push(
      `heights known for ${percentText(Math.floor(measures.demCoverage * 100) / 100)} of the line`,
    );
  return lacking;
}

export function rowOfRoute(stored: StoredRoute, units: UnitSystem): RouteRow {
  const { name, attributes, measures } = stored.route;
  return {
    id: stored.id,
    name,
    trailhead: attributes.trailhead?.name ?? null,
    length: lengthText(measures.distanceM, units),
    climb: measures.gainM === null ? 'not known' : climbText(measures.gainM.value, units),
    top: measures.highM === null ? 'not known' : heightText(measures.highM, units),
    rockClass: attributes.rockClass ?? null,
    lacking: lackingOf(stored),
  };
}

/** What the terrain says beside the fields of a route's form. */
export function hintsOf({ route }: StoredRoute, units: UnitSystem): RouteFormView['hints'] {
  const { measures, treeline, trailhead } = route;
  const steep = measures.steepestSustainedRatio;
  const degrees = steep === null ? 0 : Math.round((Math.atan(steep) * 180) / Math.PI);
  const above = measures.aboveTreelineM;
  return {
    rockClass:
      steep === null
        ? 'such as 1, 2+ or 3; not known from terrain'
        : `such as 1, 2+ or 3. The steepest ${stepText(200, units)} of the line rise at ${percentText(steep)} (${degrees}°); what the hands have to do, the terrain cannot say.`,
    surface:
      above === null || above === 0
        ? 'not stated: trail for class 1'
        : `not stated: trail for class 1, else rough above treeline; ${lengthText(above, units)} of this line lie above it`,
    treeline:
      route.attributes.treelineM != null
        ? 'stated here; left empty, the program’s or the region’s is used'
        : treeline.treelineM === null
          ? `not known here: ${treeline.text}`
          : `left empty: ${heightText(treeline.treelineM, units)} is used, ${treeline.text}`,
    trailhead:
      `The line begins at ${trailhead.latDeg.toFixed(4)}, ${trailhead.lonDeg.toFixed(4)}` +
      (trailhead.elevationM === null ? '.' : `, ${heightText(trailhead.elevationM, units)}.`),
  };
}
