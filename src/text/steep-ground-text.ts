import type { SteepGround, SteepStretch } from '../route/steep-ground.ts';
import type { UnitSystem } from '../units.ts';
import { lengthText, stepText } from './words.ts';

/** Stretches named one by one; the others are summed up. */
const MOST_NAMED = 8;

function stretchText({ fromM, toM, onDeg, besideDeg, aboveDeg }: SteepStretch, units: UnitSystem): string {
  const where = (deg: number | null, name: string) =>
    deg === null ? [] : [`${name} to ${Math.round(deg)}°`];
  const angles = [...where(onDeg, 'on it'), ...where(besideDeg, 'beside'), ...where(aboveDeg, 'above')];
  const [from, to] = [lengthText(fromM, units), lengthText(toM, units)];
  return `${from === to ? `about ${from}` : `${from} to ${to}`} (${angles.join(', ')})`;
}

/** Where snow can slide by the tiles, and that they do not see all of it; `null`: not known. */
export function steepGroundText(ground: SteepGround | null | undefined, units: UnitSystem): string | null {
  // A route measured by an earlier version has no such field until it is measured again.
  if (ground == null) return null;
  const { stretches, fromDeg, knownShare } = ground;
  const partly = knownShare < 1 ? ' Not known on all of the line.' : '';
  if (stretches.length === 0) {
    return `none of ${fromDeg}° or more found on the line, ${stepText(50, units)} beside it or ${stepText(100, units)} above it. The tiles smooth cliffs and gullies: this proves nothing.${partly}`;
  }
  const named = stretches.slice(0, MOST_NAMED).map((stretch) => stretchText(stretch, units));
  const others = stretches.slice(MOST_NAMED);
  const othersM = others.reduce((sum, { fromM, toM }) => sum + toM - fromM, 0);
  if (others.length > 0) named.push(`${others.length} more, ${lengthText(othersM, units)} in all`);
  return `${fromDeg}° or more, by distance from the start: ${named.join('; ')}. The tiles smooth cliffs and gullies: steeper ground, and steep ground elsewhere, is likely.${partly}`;
}
