import { type Command, CommanderError, Option } from 'commander';
import { measureFile } from '../../app/measure.ts';
import { withChanges } from '../../design.ts';
import { sourcesView } from '../../route/attribution.ts';
import { notesView } from '../../text/notes.ts';
import { roundedMeasures } from '../../views/measures-view.ts';
import { measureText } from '../measure-text.ts';
import {
  type Common,
  demOption,
  formatOption,
  jsonText,
  onGround,
  readRoutes,
  settingsOption,
  type Terminal,
  unitsOption,
} from '../terminal.ts';

export function measureCommand(program: Command, terminal: Terminal): void {
  program
    .command('measure')
    .description('measure the lines of GPX or GeoJSON files on the terrain')
    .argument('<file...>', 'GPX or GeoJSON files or folders')
    .addOption(demOption())
    .addOption(
      new Option('--treeline-m <metres>', 'treeline where a route states none').argParser(treelineValue),
    )
    .addOption(formatOption('table', 'json'))
    .addOption(unitsOption())
    .addOption(settingsOption())
    .action((files, options) => measure(terminal, files, options));
}

async function measure(
  terminal: Terminal,
  files: string[],
  options: Common & { treelineM?: number },
): Promise<void> {
  await onGround(terminal, options, async (given) => {
    const { treelineM } = options;
    const design =
      treelineM === undefined
        ? given.design
        : withChanges({ treeline: { programM: treelineM } }, given.design);
    const routes = await readRoutes(files, { ...given, design }, measureFile);
    if (options.format === 'json') {
      terminal.out(
        jsonText(
          routes.map(({ name, measures, profile, notes, sources }) => ({
            name,
            measures: roundedMeasures(measures),
            sources: sourcesView({ sources }),
            profile: profile.map(([distanceM, elevationM]) => [
              Math.round(distanceM * 10) / 10,
              elevationM === null ? null : Math.round(elevationM * 100) / 100,
            ]),
            notes: notesView(notes),
          })),
        ),
      );
    } else {
      terminal.out(routes.map((route) => measureText(route, options.units)).join('\n\n'));
    }
  });
}

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
