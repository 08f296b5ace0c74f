import type { UnitSystem } from '../../src/units.ts';

/** Figures in a unit of one system, and the names of its units. */
const FIGURES = {
  metric: /\d[\s\u00a0]?(?:m|km|km\/h|mm|l|kg|g|°C)(?![\p{L}\d])/gu,
  us: /\d[\s\u00a0]?(?:ft|mi|mph|lb|oz|qt|°F)(?![\p{L}\d])/gu,
};
const NAMES = {
  metric: /\b(?:kilo|centi|milli)?met(?:re|er)s?\b|\bkm\b|\blit(?:re|er)s?\b|\bkilograms?\b/g,
  us: /\b(?:feet|foot|miles?|inch(?:es)?|pounds?|ounces?|quarts?)\b|\bft\b/g,
};

/** What a text for a reader of these units says in units of the other system; `nameable`: it is about units themselves. */
export function unitsNotOf(units: UnitSystem, text: string, nameable = false): string[] {
  const other = units === 'us' ? 'metric' : 'us';
  return [...(text.match(FIGURES[other]) ?? []), ...(nameable ? [] : (text.match(NAMES[other]) ?? []))];
}
