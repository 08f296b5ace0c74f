import { percentText } from '../fit/words.ts';
import type { Surface } from '../terrain/surface.ts';
import { table, wrapped } from './table.ts';

const degrees = (value: number): string => value.toFixed(3);

/** The tiles of a set, and the files refused, for people. */
export async function demText(surface: Surface): Promise<string> {
  const rows: string[][] = [
    ['tile', 'west', 'south', 'east', 'north', 'postings', 'every', 'unit', 'heights above', 'void'],
  ];
  const notes: string[] = [];
  for (const [index, tile] of surface.sources.entries()) {
    const voidShare = await surface.voidShare(index);
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
      notes.push(wrapped(`${tile.path}: ${note.text}`, '  note     ', 100, '           '));
  }
  for (const { path, reason } of surface.refused) {
    notes.push(wrapped(`${path}: ${reason}`, '  refused  ', 100, '           '));
  }
  const right = 'right' as const;
  const left = 'left' as const;
  return [table(rows, [left, right, right, right, right, right, right, left, left, right]), ...notes].join(
    '\n',
  );
}
