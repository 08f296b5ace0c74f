import { steepQuestion } from '../rank/questions.ts';
import type { Route } from '../route/describe-route.ts';
import { measureRows } from '../text/measure-words.ts';
import { noteText } from '../text/notes.ts';
import { toCheckText } from '../text/to-check.ts';
import type { UnitSystem } from '../units.ts';
import { wrapped } from './table.ts';

const NAME_WIDTH = 17;

/** Rows whose text is wrapped. */
const LONG: ReadonlySet<string> = new Set([
  'file’s heights',
  'steep ground',
  'tile',
  'heights from',
  'to check',
]);

/** What the terrain says of a route, for people. */
export function measureText(route: Route, units: UnitSystem): string {
  const asked = steepQuestion(route);
  const rows = [
    ...measureRows(route, units),
    ...(asked === null ? [] : [['to check', toCheckText(asked, units)] as const]),
  ];
  const lines = [
    route.name,
    ...rows.map(([name, value]) =>
      LONG.has(name)
        ? wrapped(value, `  ${name.padEnd(NAME_WIDTH)}`, 100, ' '.repeat(NAME_WIDTH + 2))
        : `  ${name.padEnd(NAME_WIDTH)}${value}`,
    ),
    ...route.notes.map((note) =>
      wrapped(`${note.code}: ${noteText(note, units)}`, '  note  ', 100, '        '),
    ),
  ];
  return lines.join('\n');
}
