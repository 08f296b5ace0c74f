const UNITS = 'km/h|km|mi|mph|m|ft|min|h|L|kg|g|kcal|kJ|%|°C|°F|litres?|hours?|minutes?|days?|yards|[NSEW]';
const FIGURE = new RegExp(`(?<=\\d[°′]?) (?=(?:${UNITS})(?![\\p{L}\\d]))`, 'gu');
/** `1 h 25 min`. */
const DURATION = /(?<=\d\u00A0h) (?=\d+\u00A0min)/g;

/** A text in which no line ends between a figure and its unit: a no-break space stands there. */
export function wholeFigures(text: string): string {
  const figures = text.replace(FIGURE, '\u00A0');
  return figures.includes('\u00A0h ') ? figures.replace(DURATION, '\u00A0') : figures;
}
