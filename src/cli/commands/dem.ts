import type { Command } from 'commander';
import { tileReport } from '../../terrain/tile-report.ts';
import { openSurface } from '../../terrain/tile-set.ts';
import { messageText } from '../../text/errors.ts';
import { notesView } from '../../text/notes.ts';
import { demText } from '../dem-text.ts';
import { formatOption, jsonText, type Terminal } from '../terminal.ts';

export function demCommand(program: Command, terminal: Terminal): void {
  program
    .command('dem')
    .description('list elevation tiles: which, where, what units, how much void, whose')
    .argument('<path...>', 'files, folders, catalogues or addresses')
    .addOption(formatOption(['table', 'json']))
    .action((paths, options) => listTiles(terminal, paths, options));
}

async function listTiles(terminal: Terminal, paths: string[], options: { format: string }): Promise<void> {
  const surface = await openSurface(paths, terminal.dem?.());
  try {
    if (options.format === 'json') {
      const tiles = (await tileReport(surface)).map((tile) => ({ ...tile, notes: notesView(tile.notes) }));
      const refused = surface.refused.map((one) => ({
        ...one,
        reason: messageText(one.reason, { units: 'metric' }),
      }));
      terminal.out(jsonText({ tiles, refused }));
    } else {
      terminal.out(await demText(surface));
    }
  } finally {
    await surface.close();
  }
}
