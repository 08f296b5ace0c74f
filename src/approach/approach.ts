import type { Design } from '../design.ts';

/** The drive from the meeting place to the trailhead. */
export interface Approach {
  /** Straight line, km; `null` without a meeting place. */
  readonly straightKm: number | null;
  /** Road distance and time, as stated or estimated; `null` where neither can be had. */
  readonly roadKm: number | null;
  readonly roadMin: number | null;
  /** False where the coordinator stated the figure. */
  readonly kmEstimated: boolean;
  readonly minEstimated: boolean;
}

/**
 * Distance and time of the drive: as stated, else the straight line times a published circuity factor of mountain
 * roads (Kim et al. 2015: 1.435), at the design speed. An estimate is marked as one.
 *
 * @param straightKm `null` without a meeting place
 */
export function approachTo(
  straightKm: number | null,
  stated: { readonly roadKm: number | null; readonly roadMin: number | null },
  design: Design['drive'],
): Approach {
  const estimateKm = straightKm === null ? null : straightKm * design.circuityMountain;
  const roadKm = stated.roadKm ?? estimateKm;
  return {
    straightKm,
    roadKm,
    roadMin: stated.roadMin ?? (roadKm === null ? null : (roadKm / design.kmPerH) * 60),
    kmEstimated: stated.roadKm === null,
    minEstimated: stated.roadMin === null,
  };
}
