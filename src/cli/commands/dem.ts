import type { Command } from 'commander';
import type { Surface } from '../../terrain/surface.ts';
import { tileReport } from '../../terrain/tile-report.ts';
import { openSurface } from '../../terrain/tile-set.ts';
import { messageText } from '../../text/errors.ts';
import { notesView, noteText } from '../../text/notes.ts';
import { percentText, plural } from '../../text/words.ts';
import { progressOf } from '../progress.ts';
import { table, wrapped } from '../table.ts';
import { formatOption, jsonText, type Terminal } from '../terminal.ts';

const degrees = (value: number): string => value.toFixed(3);

/** The tiles of a set, and the files refused, for people. */
async function demText(surface: Surface): Promise<string> {
  const rows: string[][] = [
    ['tile', 'west', 'south', 'east', 'north', 'postings', 'every', 'unit', 'heights above', 'void'],
  ];
  const notes: string[] = [];
  // Each tile is read whole for its void.
  const progress = progressOf(surface.sources.length, 'reading');
  for (const [index, tile] of surface.sources.entries()) {
    const voidShare = await surface.voidShare(index);
    progress.step(tile.path);
    rows.push([
      tile.path,
      degrees(tile.westDeg),
      degrees(tile.southDeg),
      degrees(tile.eastDeg),
      degrees(tile.northDeg),
      `${tile.columns} × ${tile.rows}`,
      `${Math.round(tile.postingM)} m`,
      `${tile.unit}${tile.unitAssumed ? ' (assumed)' : ''}`,
      tile.verticalReference ?? 'not stated',
      voidShare > 0 && voidShare < 0.01 ? 'under 1 %' : percentText(voidShare),
    ]);
    for (const note of tile.notes)
      notes.push(wrapped(`${tile.path}: ${noteText(note, 'metric')}`, '  note     ', 100, '           '));
  }
  progress.stop();
  const credits = new Map<string, number>();
  for (const { attribution } of surface.sources) {
    const words = attribution.length === 0 ? 'attribution not stated' : attribution.join('; ');
    credits.set(words, (credits.get(words) ?? 0) + 1);
  }
  for (const [words, tiles] of credits)
    notes.push(wrapped(`${plural(tiles, 'tile')}: ${words}`, '  from     ', 100, '           '));
  for (const { path, reason } of surface.refused) {
    notes.push(
      wrapped(`${path}: ${messageText(reason, { units: 'metric' })}`, '  refused  ', 100, '           '),
    );
  }
  const right = 'right' as const;
  const left = 'left' as const;
  return [table(rows, [left, right, right, right, right, right, right, left, left, right]), ...notes].join(
    '\n',
  );
}

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
