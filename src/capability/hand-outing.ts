import type { Outing } from './outing.ts';
import type { Quantities } from './quantities.ts';
import { tradeRuleMin } from './rules/trade-rule.ts';

export interface HandRecord {
  readonly date: string;
  readonly distanceM: number;
  readonly gainM: number;
  readonly lossM?: number | null;
  readonly movingMin?: number | null;
  readonly standingMin?: number | null;
  readonly maxElevationM?: number | null;
  readonly rockClass?: string | null;
  readonly members?: readonly string[] | null;
  /** Up and down one hill or stair again and again: it trains the climb and says little of a pace on paths. */
  readonly repeats?: boolean;
}

/** Nobody walks a day in less than this share of the trade rule's time (design; the fastest real climb at hand took 0.41). */
const FASTEST_SHARE = 0.25;

export type HandOuting = Outing & { readonly gainM: number; readonly quantities: Quantities };

/**
 * The walk of a day of which distance, climb and loss are known: the distance is shared between up and down in
 * proportion to the two.
 */
export function handQuantities(distanceM: number, gainM: number, lossM = gainM): Quantities {
  const upShare = gainM + lossM > 0 ? gainM / (gainM + lossM) : 1;
  return {
    upKm: (distanceM * upShare) / 1000,
    upM: gainM,
    downKm: (distanceM * (1 - upShare)) / 1000,
    downM: lossM,
  };
}

/**
 * An outing entered by hand. Without more it went up and came back the same way: half the distance climbing, half
 * descending, as much down as up; with a loss that differs the distance is shared in proportion.
 */
export function handOuting(record: HandRecord): HandOuting {
  const { distanceM, gainM } = record;
  const quantities = handQuantities(distanceM, gainM, record.lossM ?? gainM);
  const movingMin = record.movingMin ?? null;
  const ruleMin = tradeRuleMin(distanceM, gainM);
  const isPlausible = movingMin !== null && movingMin >= FASTEST_SHARE * ruleMin && ruleMin > 0;
  const teaches = isPlausible && record.repeats !== true;
  const highM = record.maxElevationM ?? null;
  return {
    date: record.date,
    source: 'hand',
    distanceM,
    gainM,
    gainHighM: gainM,
    highM,
    rockClass: record.rockClass ?? null,
    members: record.members ?? null,
    quantities,
    parts: teaches ? [{ quantities, movingMin }] : [],
    movingMin,
    standingMin: record.standingMin ?? null,
    climbElevationM: highM === null ? null : highM - gainM / 2,
    clockFromMs: null,
    clockToMs: null,
    notes:
      movingMin === null || isPlausible
        ? []
        : [{ code: 'time-implausible', values: { movingMin, distanceM, gainM } }],
  };
}
