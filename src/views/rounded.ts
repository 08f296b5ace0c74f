/** How figures and times are written where they are sent. */
import type { Moment } from '../day/walk-day.ts';
import { rfc3339 } from '../earth/local-time.ts';

// + 0 turns -0 into 0.
export const places = (value: number, decimals: number): number => {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale + 0;
};

export const placesOrNull = (value: number | null, decimals: number): number | null =>
  value === null ? null : places(value, decimals);

export const tenth = (value: number): number => places(value, 1);
export const tenthOrNull = (value: number | null): number | null => placesOrNull(value, 1);

/** Every figure of a value to a tenth; all else stays. */
export function tenths<T>(value: T): T {
  if (typeof value === 'number') return tenth(value) as T;
  if (Array.isArray(value)) return value.map(tenths) as T;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, part]) => [name, tenths(part)])) as T;
}

/** Times of a zone as RFC 3339 with its offset. */
export function timesIn(zone: string) {
  const text = (ms: number) => rfc3339(ms, zone);
  return {
    text,
    textOrNull: (ms: number | null) => (ms === null ? null : text(ms)),
    moment: ({ p10Ms, p50Ms, p90Ms }: Moment) => ({ p10: text(p10Ms), p50: text(p50Ms), p90: text(p90Ms) }),
  };
}
