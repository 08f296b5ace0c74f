import { questionText, VERDICT_TEXT } from '../fit/verdict-words.ts';
import type { Move, Stand } from '../fit/what-moved.ts';
import { plural } from '../fit/words.ts';
import { wrapped } from './table.ts';

/** Routes told one by one; the rest is counted (design). */
const MOST_TOLD = 30;

const standText = ({ rank, verdict, score }: Stand): string =>
  `${VERDICT_TEXT[verdict]} (place ${rank}, score ${score.toFixed(2)})`;

function whyText({ criteria }: Pick<Move, 'criteria'>): string {
  const parts = criteria.map(({ name, from, to }) =>
    from === to ? questionText(name) : `${questionText(name)} ${VERDICT_TEXT[from]} → ${VERDICT_TEXT[to]}`,
  );
  return parts.length === 0 ? '' : `: ${parts.join(', ')}`;
}

/** What moved against the shortlist as it is, for people. */
export function movedText(moves: readonly (Omit<Move, 'which'> & { readonly name: string })[]): string {
  if (moves.length === 0) return 'What moved: nothing.';
  const told = moves.slice(0, MOST_TOLD);
  const rest = moves.length - told.length;
  return [
    `What moved, against the shortlist without the changes (${plural(moves.length, 'route')}):`,
    ...told.map((move) =>
      wrapped(
        `${move.name}: ${standText(move.from)} → ${standText(move.to)}${whyText(move)}`,
        '  ',
        100,
        '    ',
      ),
    ),
    ...(rest > 0 ? [`  and ${plural(rest, 'other route')}`] : []),
  ].join('\n');
}
