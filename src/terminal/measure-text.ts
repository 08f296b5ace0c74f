import { measureRows } from '../fit/measure-words.ts';
import type { Route } from '../route/describe-route.ts';
import type { UnitSystem } from '../units.ts';
import { wrapped } from './table.ts';

const NAME_WIDTH = 17;

/** What the terrain says of a route, for people. */
export function measureText(route: Route, units: UnitSystem): string {
  const lines = [
    route.name,
    ...measureRows(route, units).map(([name, value]) => `  ${name.padEnd(NAME_WIDTH)}${value}`),
    ...route.notes.map((note) => wrapped(`${note.code}: ${note.text}`, '  note  ', 100, '        ')),
  ];
  return lines.join('\n');
}
