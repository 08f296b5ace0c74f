import { at, last } from '../array.ts';
import type { Design } from '../design.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import { rockClassValue } from '../ingest/rock-class.ts';
import type { ElevatedSegment } from '../terrain/elevated-track.ts';

/** A stretch of the route with ground of 30° or more on the line, beside it or above it. Metres along the route. */
export interface SteepStretch {
  readonly fromM: number;
  readonly toM: number;
  /** Steepest on the line, within 50 m of it, and within 100 m on the higher side, degrees; `null`: not that steep there. */
  readonly onDeg: number | null;
  readonly besideDeg: number | null;
  readonly aboveDeg: number | null;
}

/** What the tiles say of the steepness of the ground. They smooth cliffs: that nothing steep is found proves nothing. */
export interface SteepGround {
  readonly stretches: readonly SteepStretch[];
  /** Angle from which ground was counted, degrees: less on coarse tiles, which flatten it. */
  readonly fromDeg: number;
  /** Steepest mean over 50 m of the line, degrees; `null`: none so long is known. */
  readonly steepest50Deg: number | null;
  /** Where the middle of that lies along the route, metres. */
  readonly steepest50AtM: number | null;
  /** Share of the stations whose steepness is known. */
  readonly knownShare: number;
}

/** Over so much of the line the mean steepness is held against the class, metres (sources.md §12; design). */
const CLASS_REACH_M = 50;

interface Steepest {
  readonly deg: number;
  readonly atM: number;
}

function steepest50({ distanceM, slopes }: ElevatedSegment): Steepest | null {
  const spacingM = at(distanceM, 1) - at(distanceM, 0);
  const reach = Math.max(1, Math.round(CLASS_REACH_M / spacingM));
  let found: Steepest | null = null;
  for (let i = 0; i + reach < distanceM.length; i += 1) {
    const window = slopes.onDeg.slice(i, i + reach + 1).filter((deg) => deg !== null);
    if (window.length <= reach) continue;
    const deg = window.reduce((sum, each) => sum + each, 0) / window.length;
    if (found === null || deg > found.deg) found = { deg, atM: at(distanceM, i) + (reach * spacingM) / 2 };
  }
  return found;
}

const larger = (a: number | null, b: number | null): number | null =>
  a === null ? b : b === null ? a : Math.max(a, b);

/**
 * Stretches of ground on which snow slides, and the steepest 50 m of the line. `null` where no steepness is known.
 *
 * @param postingM posting distance of the coarsest tile that was used, metres
 */
export function steepGroundOf(
  segments: readonly ElevatedSegment[],
  postingM: number,
  design: Design,
): SteepGround | null {
  const { slideFromDeg, coarseMarginDeg, joinM } = design.steepGround;
  const fromDeg = postingM >= design.gain.coarsePostingM ? slideFromDeg - coarseMarginDeg : slideFromDeg;
  const counted = (deg: number | null | undefined): number | null =>
    deg != null && deg >= fromDeg ? deg : null;
  const stretches: SteepStretch[] = [];
  let known = 0;
  let count = 0;
  let steepest: Steepest | null = null;
  for (const segment of segments) {
    const { distanceM, slopes } = segment;
    const halfM = (at(distanceM, 1) - at(distanceM, 0)) / 2;
    const endM = last(distanceM);
    const here = steepest50(segment);
    if (here !== null && (steepest === null || here.deg > steepest.deg)) steepest = here;
    distanceM.forEach((atM, i) => {
      count += 1;
      if ((slopes.onDeg[i] ?? null) !== null) known += 1;
      const onDeg = counted(slopes.onDeg[i]);
      const besideDeg = counted(slopes.besideDeg[i]);
      const aboveDeg = counted(slopes.aboveDeg[i]);
      if (onDeg === null && besideDeg === null && aboveDeg === null) return;
      const fromM = Math.max(at(distanceM, 0), atM - halfM);
      const toM = Math.min(endM, atM + halfM);
      const before = stretches.at(-1);
      if (before === undefined || fromM - before.toM > joinM) {
        stretches.push({ fromM, toM, onDeg, besideDeg, aboveDeg });
        return;
      }
      stretches[stretches.length - 1] = {
        fromM: before.fromM,
        toM,
        onDeg: larger(before.onDeg, onDeg),
        besideDeg: larger(before.besideDeg, besideDeg),
        aboveDeg: larger(before.aboveDeg, aboveDeg),
      };
    });
  }
  if (known === 0) return null;
  return {
    stretches,
    fromDeg,
    steepest50Deg: steepest?.deg ?? null,
    steepest50AtM: steepest?.atM ?? null,
    knownShare: known / count,
  };
}

/** The class from which to ask, for ground so steep over 50 m; `null`: not steep enough to ask (sources.md §12; design). */
function classToAskFor(steepest50Deg: number | null): 2 | 3 | 4 | null {
  if (steepest50Deg === null || steepest50Deg <= 30) return null;
  return steepest50Deg > 50 ? 4 : steepest50Deg > 40 ? 3 : 2;
}

/** The class that ground so steep may be, where it is higher than the one stated; `null`: none, which proves nothing. */
export function classInDoubt({
  attributes,
  measures,
}: {
  readonly attributes: Pick<RouteAttributes, 'rockClass'>;
  readonly measures: { readonly steepGround?: SteepGround | null };
}): 2 | 3 | 4 | null {
  const asked = classToAskFor(measures.steepGround?.steepest50Deg ?? null);
  if (asked === null) return null;
  const stated = attributes.rockClass ?? null;
  // "2-" is class 2.
  return stated !== null && Math.round(rockClassValue(stated)) >= asked ? null : asked;
}
