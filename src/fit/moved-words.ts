import { questionText, VERDICT_TEXT } from './verdict-words.ts';
import type { Move, Stand } from './what-moved.ts';

const standText = ({ rank, verdict, score }: Stand): string =>
  `${VERDICT_TEXT[verdict]} (place ${rank}, score ${score.toFixed(2)})`;

function whyText({ criteria }: Pick<Move, 'criteria'>, arrow: string): string {
  const parts = criteria.map(({ name, from, to }) =>
    from === to
      ? questionText(name)
      : `${questionText(name)} ${VERDICT_TEXT[from]} ${arrow} ${VERDICT_TEXT[to]}`,
  );
  return parts.length === 0 ? '' : `: ${parts.join(', ')}`;
}

/** One move for people: `Oatcake Knoll: not yet (place 9, score 0.61) → fits (place 4, score 0.82): climb not yet → fits`. */
export const moveText = (
  move: Omit<Move, 'which'> & { readonly name: string },
  arrow: '→' | 'becomes',
): string => `${move.name}: ${standText(move.from)} ${arrow} ${standText(move.to)}${whyText(move, arrow)}`;
