import { M_PER_FT, M_PER_MILE, type UnitSystem } from '../units.ts';

/** A text, or `null` where nothing but blanks was written. */
export function textOf(form: URLSearchParams, name: string): string | null {
  const text = form.get(name)?.trim() ?? '';
  return text === '' ? null : text;
}

/** A number; what is none stays the text that it is, for the reader of the whole to refuse it by its place. */
export function numberOf(form: URLSearchParams, name: string): number | string | null {
  const text = textOf(form, name);
  if (text === null) return null;
  const value = Number(text);
  return Number.isFinite(value) ? value : text;
}

/** How a length stands in a field of its unit, and how it is read from there. */
export interface FieldUnit {
  readonly name: string;
  readonly words?: string;
  readonly perUnit: number;
  readonly decimals: number;
}

/** Heights: metres or feet; lengths of roads, stored in km: km or miles. */
export const heightUnit = (units: UnitSystem): FieldUnit =>
  units === 'us'
    ? { name: 'ft', words: 'feet', perUnit: M_PER_FT, decimals: 0 }
    : { name: 'm', words: 'metres', perUnit: 1, decimals: 3 };
export const roadUnit = (units: UnitSystem): FieldUnit =>
  units === 'us'
    ? { name: 'mi', words: 'miles', perUnit: M_PER_MILE / 1000, decimals: 1 }
    : { name: 'km', words: 'km', perUnit: 1, decimals: 3 };

export function shownIn({ perUnit, decimals }: FieldUnit, value: number | null | undefined): string {
  return value == null ? '' : String(Number((value / perUnit).toFixed(decimals)));
}

/** What a field says. One that was not touched says what is stored: no rounding by the way. */
export function readIn(
  unit: FieldUnit,
  form: URLSearchParams,
  name: string,
  stored: number | null | undefined,
): number | string | null {
  if ((form.get(name) ?? '') === shownIn(unit, stored)) return stored ?? null;
  const value = numberOf(form, name);
  return typeof value === 'number' ? Number((value * unit.perUnit).toFixed(3)) : value;
}

/** The fields of a form by name, the first of each; to show it again as it was sent. */
export const valuesOf = (form: URLSearchParams): Readonly<Record<string, string>> =>
  Object.fromEntries([...form].reverse());
