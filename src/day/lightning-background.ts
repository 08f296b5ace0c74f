import hoursTable from '../../data/tables/lightning-hours.json' with { type: 'json' };
import { at } from '../array.ts';
import type { Place } from '../earth/geodesic.ts';
import { inOutline } from '../earth/in-outline.ts';

/** How lightning is spread over the hours of a day in a region: background, never a forecast, and scored nowhere. */
export interface LightningBackground {
  readonly region: string;
  /** 1 to 12. */
  readonly month: number;
  /** The clock of the hours. */
  readonly clock: string;
  readonly utcOffsetHours: number;
  readonly highestHour: number;
  /** As the source names them, 0 to 23, with their flashes over those of the highest, 0 to 1. */
  readonly hours: readonly { readonly hour: number; readonly shareOfHighest: number }[];
  readonly source: string;
  readonly caveats: readonly string[];
}

/**
 * The published hourly lightning curve whose outline holds the place, as shares of its highest hour; `null` outside
 * every outline and in months without figures.
 * @param month 1 to 12.
 * @throws RangeError on a month that is not 1 to 12.
 * @example lightningBackground({ lonDeg: -105.6, latDeg: 40.25 }, 7) // the hour 10 has 0.021 of the hour 14
 */
export function lightningBackground(place: Place, month: number): LightningBackground | null {
  if (!Number.isInteger(month) || month < 1 || month > 12) throw new RangeError(`${month} is not a month`);
  const region = hoursTable.regions.find(({ outline }) => inOutline(place, outline as [number, number][]));
  if (region === undefined) return null;
  const flashes = (region.flashesByMonth as Partial<Record<string, number[]>>)[String(month)];
  if (flashes === undefined) return null;
  const highest = Math.max(...flashes);
  const { name, clock, utcOffsetHours, source, caveats } = region;
  return {
    ...{ region: name, month, clock, utcOffsetHours, source, caveats },
    highestHour: at(region.hours, flashes.indexOf(highest)),
    hours: region.hours.map((hour, index) => ({ hour, shareOfHighest: at(flashes, index) / highest })),
  };
}
