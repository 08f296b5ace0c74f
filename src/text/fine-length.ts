import { M_PER_FT, M_PER_MILE, type UnitSystem } from '../units.ts';

/** A length in metres from here on is told in miles: no height is so great (design). */
const MILES_FROM_M = 10_000;

/** How many figures of a number are meant: `500` has one, `640` two, `12.0` three. */
function figuresIn(written: string): number {
  const figures = written.replace(/\D/g, '').replace(/^0+/, '');
  return (written.includes('.') ? figures : figures.replace(/0+$/, '')).length;
}

/** As fine as it is in metres, and two figures at least: `500 m` is 1,600 ft. */
function inUs(metres: number, written: string, unit: 'mi' | 'ft'): string {
  const value = metres / (unit === 'mi' ? M_PER_MILE : M_PER_FT);
  const maximumSignificantDigits = Math.max(2, figuresIn(written));
  return `${new Intl.NumberFormat('en', { maximumSignificantDigits }).format(value)} ${unit}`;
}

/** A length of the method or of a note, as fine as it is given: `640 m` or `2,100 ft`. */
export function metresAsFine(metres: number, units: UnitSystem): string {
  if (units === 'metric') return `${metres} m`;
  return inUs(metres, String(metres), metres >= MILES_FROM_M ? 'mi' : 'ft');
}

/** The same in kilometres with so many decimals: `12.5 km` or `7.77 mi`. */
export function kilometresAsFine(metres: number, decimals: number, units: UnitSystem): string {
  const written = (metres / 1000).toFixed(decimals);
  return units === 'metric' ? `${written} km` : inUs(Number(written) * 1000, written, 'mi');
}
