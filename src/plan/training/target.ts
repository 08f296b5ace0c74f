import { effortKj } from '../../capability/effort.ts';
import { totalQuantities } from '../../capability/quantities.ts';
import type { AgeBand, Design } from '../../design.ts';
import type { Route } from '../../route/describe-route.ts';

/** A day in the three quantities that training moves. */
export interface Amounts {
  readonly distanceM: number;
  readonly gainM: number;
  /** For one person of the age band. */
  readonly effortKj: number;
}

export const QUANTITIES = ['distanceM', 'gainM', 'effortKj'] as const;
export type Quantity = (typeof QUANTITIES)[number];

/** What the trip asks: the climb at the upper end of its band, as it is ranked. */
export interface TrainingTarget extends Amounts {
  /** How far the upper end of the climb lies above its value, as a share. */
  readonly gainDoubt: number;
  readonly highM: number | null;
  readonly rockClass: string | null;
}

/** What a route asks of training; `null` where its heights are not all known, so that no climb can be trained for. */
export function targetOf(route: Route, ageBand: AgeBand, design: Design): TrainingTarget | null {
  const { distanceM, gainM, highM } = route.measures;
  if (gainM === null || route.heightsMissing) return null;
  return {
    distanceM,
    gainM: gainM.high,
    gainDoubt: gainM.value > 0 ? gainM.high / gainM.value - 1 : 0,
    effortKj: effortKj(totalQuantities(route.pieces), ageBand, design),
    highM,
    rockClass: route.attributes.rockClass ?? null,
  };
}
