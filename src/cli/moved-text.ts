import type { Move } from '../rank/what-moved.ts';
import { moveText } from '../text/moved-words.ts';
import { plural } from '../text/words.ts';
import { item } from './table.ts';

/** Routes told one by one; the rest is counted (design). */
const MOST_TOLD = 30;

/** What moved against the shortlist as it is, for people. */
export function movedText(moves: readonly (Omit<Move, 'which'> & { readonly name: string })[]): string {
  if (moves.length === 0) return 'What moved: nothing.';
  const told = moves.slice(0, MOST_TOLD);
  const rest = moves.length - told.length;
  return [
    `What moved, against the shortlist without the changes (${plural(moves.length, 'route')}):`,
    ...told.map((move) => item(moveText(move))),
    ...(rest > 0 ? [`  and ${plural(rest, 'other route')}`] : []),
  ].join('\n');
}
