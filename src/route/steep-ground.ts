import { at, greatestBy, greatestKnown, last } from '../array.ts';
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

/** Mean steepness of every 50 m of the line, and where the middle of them lies. */
function meansOver50({ distanceM, slopes }: ElevatedSegment) {
  const spacingM = at(distanceM, 1) - at(distanceM, 0);
  const reach = Math.max(1, Math.round(CLASS_REACH_M / spacingM));
  return distanceM.flatMap((fromM, i) => {
    const known = slopes.onDeg.slice(i, i + reach + 1).filter((deg) => deg !== null);
    if (known.length <= reach) return [];
    const deg = known.reduce((sum, each) => sum + each, 0) / known.length;
    return [{ deg, atM: fromM + (reach * spacingM) / 2 }];
  });
}

type Angles = Pick<SteepStretch, 'onDeg' | 'besideDeg' | 'aboveDeg'>;

const angles = (of: (kind: keyof Angles) => number | null): Angles => ({
  onDeg: of('onDeg'),
  besideDeg: of('besideDeg'),
  aboveDeg: of('aboveDeg'),
});

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
  const counted = (deg: number | null): number | null => (deg !== null && deg >= fromDeg ? deg : null);
  const stretches: SteepStretch[] = [];
  for (const { distanceM, slopes } of segments) {
    const halfM = (at(distanceM, 1) - at(distanceM, 0)) / 2;
    distanceM.forEach((atM, i) => {
      const here = angles((kind) => counted(at(slopes[kind], i)));
      if (greatestKnown(Object.values(here)) === null) return;
      const fromM = Math.max(at(distanceM, 0), atM - halfM);
      const toM = Math.min(last(distanceM), atM + halfM);
      const before = stretches.at(-1);
      if (before === undefined || fromM - before.toM > joinM) {
        stretches.push({ fromM, toM, ...here });
        return;
      }
      const both = angles((kind) => greatestKnown([before[kind], here[kind]]));
      stretches[stretches.length - 1] = { fromM: before.fromM, toM, ...both };
    });
  }
  const onLine = segments.flatMap(({ slopes }) => slopes.onDeg);
  const known = onLine.filter((deg) => deg !== null).length;
  if (known === 0) return null;
  const steepest = greatestBy(segments.flatMap(meansOver50), ({ deg }) => deg);
  return {
    stretches,
    fromDeg,
    steepest50Deg: steepest?.deg ?? null,
    steepest50AtM: steepest?.atM ?? null,
    knownShare: known / onLine.length,
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
