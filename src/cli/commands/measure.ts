import { CommanderError } from 'commander';
import { withChanges } from '../../design.ts';
import { sourcesView } from '../../route/attribution.ts';
import { notesView } from '../../text/notes.ts';
import { roundedMeasures } from '../../views/measures-view.ts';
import { placesOrNull, tenth } from '../../views/rounded.ts';
import { measureText } from '../measure-text.ts';
import { DEM, groundCommand, jsonText, option, readRoutes } from '../terminal.ts';

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
