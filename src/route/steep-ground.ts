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
  /** Steepest 50 m of the way itself, up or down, degrees; `null`: none so long is known. Missing: measured by an earlier version. */
  readonly line50Deg?: number | null;
  /** Where the middle of that lies along the route, metres. */
  readonly line50AtM?: number | null;
  /** Length of the way, metres, that is so steep over 50 m that on class 3 it is taken to need hands. */
  readonly steepLineM?: number;
  /** Share of the stations whose steepness is known. */
  readonly knownShare: number;
}

/** Over so much of the line its steepness is held against the class, metres (sources.md §12; design). */
const CLASS_REACH_M = 50;

/** Every 50 m of the way itself: its slope, up or down, and where its middle lies; the hillside beside it says nothing. */
function slopesOver50({ distanceM, groundM }: ElevatedSegment) {
  const spacingM = at(distanceM, 1) - at(distanceM, 0);
  const reach = Math.max(1, Math.round(CLASS_REACH_M / spacingM));
  return distanceM.flatMap((fromM, i) => {
    const [from = null, to = null] = [groundM[i], groundM[i + reach]];
    if (from === null || to === null) return [];
    const deg = (Math.atan(Math.abs(to - from) / (reach * spacingM)) * 180) / Math.PI;
    return [{ deg, atM: fromM + (reach * spacingM) / 2, i, reach, spacingM }];
  });
}

/** Length of the way that is so steep over 50 m. */
function steepLengthM(segment: ElevatedSegment, fromDeg: number): number {
  const isSteep = new Uint8Array(segment.distanceM.length);
  const slopes = slopesOver50(segment).filter(({ deg }) => deg > fromDeg);
  for (const { i, reach } of slopes) isSteep.fill(1, i, i + reach);
  return isSteep.reduce((sum, step) => sum + step, 0) * (slopes[0]?.spacingM ?? 0);
}

type Angles = Pick<SteepStretch, 'onDeg' | 'besideDeg' | 'aboveDeg'>;

const angles = (of: (kind: keyof Angles) => number | null): Angles => ({
  onDeg: of('onDeg'),
  besideDeg: of('besideDeg'),
  aboveDeg: of('aboveDeg'),
});

/**
 * Stretches of ground on which snow slides, and how steep the line itself is. `null` where no steepness is known.
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
  const steepest = greatestBy(segments.flatMap(slopesOver50), ({ deg }) => deg);
  return {
    stretches,
    fromDeg,
    line50Deg: steepest?.deg ?? null,
    line50AtM: steepest?.atM ?? null,
    steepLineM: segments.reduce((sum, one) => sum + steepLengthM(one, design.steepGround.handsFromDeg), 0),
    knownShare: known / onLine.length,
  };
}

/**
 * The class that a line so steep may be, where it is higher than the one stated; `null`: none, which proves nothing.
 * That somebody has said how much of the way needs hands answers it (sources.md §12 has no figures; design).
 */
export function classInDoubt(
  {
    attributes: { rockClass, scrambleM },
    measures,
  }: {
    readonly attributes: Pick<RouteAttributes, 'rockClass' | 'scrambleM'>;
    readonly measures: { readonly steepGround?: SteepGround | null };
  },
  { steepGround }: Pick<Design, 'steepGround'>,
): 2 | 3 | 4 | null {
  const deg = measures.steepGround?.line50Deg ?? null;
  if (deg === null || deg <= steepGround.classAskedFromDeg || scrambleM != null) return null;
  const asked = deg > steepGround.class4FromDeg ? 4 : deg > steepGround.class3FromDeg ? 3 : 2;
  // "2-" is class 2.
  return rockClass != null && Math.round(rockClassValue(rockClass)) >= asked ? null : asked;
}
