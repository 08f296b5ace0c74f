import { at } from '../array.ts';
import type { WaterPoint } from '../day/day-plan.ts';
import type { Design } from '../design.ts';
import { carryOver, type Litres } from './water.ts';

interface Carry {
  /** `null`: the start. */
  readonly from: WaterPoint | null;
  /** `null`: the end of the walk. */
  readonly to: WaterPoint | null;
  /** On a late day. */
  readonly hours: number;
  readonly each: Litres;
}

export interface Refill {
  readonly carries: readonly Carry[];
  readonly atStart: Litres;
  /** The most that anyone carries at any time of the day. */
  readonly greatest: Litres;
}

/**
 * What each carries between waters when every stated point runs, L; `null` where no point lies between start and
 * end at a known time. On a late day all times stretch alike (design: minutes × p90/p50).
 */
export function refillOf(
  points: readonly WaterPoint[],
  dayMin: { readonly p50: number; readonly p90: number },
  ratePerHL: number,
  settings: Design['supplies'],
): Refill | null {
  const onTheWay = points
    .flatMap((point) => (point.afterMin === null ? [] : [{ point, afterMin: point.afterMin }]))
    .filter(({ afterMin }) => afterMin > 0 && afterMin < dayMin.p50)
    .sort((a, b) => a.afterMin - b.afterMin);
  if (onTheWay.length === 0) return null;
  const stretch = Math.max(1, dayMin.p90 / dayMin.p50);
  const stations: readonly { point: WaterPoint | null; afterMin: number }[] = [
    { point: null, afterMin: 0 },
    ...onTheWay,
    { point: null, afterMin: dayMin.p50 },
  ];
  const carries = stations.slice(1).map((station, i): Carry => {
    const before = at(stations, i);
    const hours = ((station.afterMin - before.afterMin) * stretch) / 60;
    return { from: before.point, to: station.point, hours, each: carryOver(hours, ratePerHL, settings) };
  });
  const all = carries.map(({ each }) => each);
  const greatest = all.reduce((most, each) => (each.exactL > most.exactL ? each : most));
  return { carries, atStart: at(all, 0), greatest };
}
