import { M_PER_FT, M_PER_MILE, type UnitSystem } from '../units.ts';

/** `0.8 km`, `1,950 m`; the first of `50 m to 1 km` too. No speed, and nothing that goes on: `5 min`, `3 m/s`. */
const LENGTH = /(?<![\d.,])(\d[\d,]*(?:\.\d+)?)([ \u00A0])(km|m)(?![\p{L}\d/])/gu;

/** The first of `between 1130 and 2330 m`, of which `LENGTH` sees the second. */
const FIRST_OF_TWO =
  /(?<=\bbetween )(\d[\d,]*(?:\.\d+)?)(?= and \d[\d,]*(?:\.\d+)?([ \u00A0])(km|m)(?![\p{L}\d/]))/gu;

/** A length in metres from here on is told in miles: no height is so great (design). */
const MILES_FROM_M = 10_000;

/** As fine as it was written, and two figures at least: `500 m` is 1,600 ft. */
function asFine(written: string, value: number): string {
  const figures = written.replace(/\D/g, '').replace(/^0+/, '');
  const meant = written.includes('.') ? figures : figures.replace(/0+$/, '');
  return new Intl.NumberFormat('en', { maximumSignificantDigits: Math.max(2, meant.length) }).format(value);
}

/**
 * A note as a reader of these units is told it. Notes are written in metres and kilometres where they arise, and are
 * stored so; what people have written is not for this.
 */
export function notedIn(text: string, units: UnitSystem): string {
  if (units === 'metric') return text;
  const told = (_: string, written: string, space: string, unit: string) => {
    const metres = Number(written.replaceAll(',', '')) * (unit === 'km' ? 1000 : 1);
    return unit === 'km' || metres >= MILES_FROM_M
      ? `${asFine(written, metres / M_PER_MILE)}${space}mi`
      : `${asFine(written, metres / M_PER_FT)}${space}ft`;
  };
  // Each with its own unit: two that lie far apart may not be told in the same.
  return text.replace(FIRST_OF_TWO, told).replace(LENGTH, told);
}
