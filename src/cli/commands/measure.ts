import { CommanderError } from 'commander';
import { DESIGN, withChanges } from '../../design.ts';
import { steepQuestion } from '../../rank/questions.ts';
import { sourcesView } from '../../route/attribution.ts';
import type { Route } from '../../route/describe-route.ts';
import { measureRows } from '../../text/measure-words.ts';
import { notesView, noteText } from '../../text/notes.ts';
import { toCheckText } from '../../text/to-check.ts';
import type { UnitSystem } from '../../units.ts';
import { roundedMeasures } from '../../views/measures-view.ts';
import { placesOrNull, tenth } from '../../views/rounded.ts';
import { wrapped } from '../table.ts';
import { DEM, groundCommand, jsonText, option, readRoutes } from '../terminal.ts';

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
function measureText(route: Route, units: UnitSystem): string {
  const asked = steepQuestion(route, DESIGN);
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

export const measureCommand = groundCommand<{ treelineM?: number }, string[]>({
  name: 'measure',
  description: 'measure the lines of GPX or GeoJSON files on the terrain',
  argument: ['<file...>', 'GPX or GeoJSON files or folders'],
  options: [
    DEM,
    option('--treeline-m <metres>', 'treeline where a route states none').argParser(treelineValue),
  ],
  formats: ['table', 'json'],
  async print(given, { treelineM, format, units }, files) {
    const design =
      treelineM === undefined
        ? given.design
        : withChanges({ treeline: { programM: treelineM } }, given.design);
    const routes = await readRoutes(files, { ...given, design }, false);
    if (format !== 'json') return routes.map((route) => measureText(route, units)).join('\n\n');
    return jsonText(
      routes.map(({ name, measures, profile, notes, sources }) => ({
        name,
        measures: roundedMeasures(measures),
        sources: sourcesView({ sources }),
        profile: profile.map(([distanceM, elevationM]) => [tenth(distanceM), placesOrNull(elevationM, 2)]),
        notes: notesView(notes),
      })),
    );
  },
});

function treelineValue(text: string): number {
  const value = Number(text);
  if (!/^-?\d+(\.\d+)?$/.test(text) || value < -430 || value > 6000) {
    throw new CommanderError(
      2,
      'treeline',
      `--treeline-m ${text}: give a height in metres between -430 and 6000`,
    );
  }
  return value;
}
