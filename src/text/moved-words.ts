import type { Move, Placing } from '../rank/what-moved.ts';
import { questionText } from './criteria/index.ts';
import { VERDICT_TEXT } from './verdict-words.ts';

const isScored = ({ verdict }: Placing): boolean => verdict !== 'incomplete' && verdict !== 'ruledOut';

const changeText = <T>(from: T, to: T): string => (from === to ? `${to}` : `${from} → ${to}`);

/** `stretch → fits, place 11 → 4, score 0.73 → 0.93`; no score where nobody chooses by it. */
function placingText(from: Placing, to: Placing): string {
  const verdict = changeText(VERDICT_TEXT[from.verdict], VERDICT_TEXT[to.verdict]);
  const scores = isScored(from) && isScored(to);
  const score = scores ? `, score ${changeText(from.score.toFixed(2), to.score.toFixed(2))}` : '';
  return `${verdict}, place ${changeText(from.rank, to.rank)}${score}`;
}

const changedText = (
  { name, from, to }: Move['criteria'][number],
  told: (question: string, was: string, is: string) => string,
): string =>
  from === to ? questionText(name) : told(questionText(name), VERDICT_TEXT[from], VERDICT_TEXT[to]);

export type NamedMove = Omit<Move, 'which'> & { readonly name: string };

/** One move in short: `Oatcake Knoll: not yet → fits, place 9 → 4, score 0.61 → 0.82; by climb not yet → fits`. */
export function moveText({ name, from, to, criteria }: NamedMove): string {
  const why = criteria.map((one) => changedText(one, (question, was, is) => `${question} ${was} → ${is}`));
  return `${name}: ${placingText(from, to)}${why.length === 0 ? '' : `; by ${why.join(', ')}`}`;
}

/** The same in words: `Oatcake Knoll: not yet becomes fits, place 9 to 4, score 0.61 to 0.82 (climb: not yet becomes fits)`. */
export function moveSentence({ name, from, to, criteria }: NamedMove): string {
  const [was, is] = [VERDICT_TEXT[from.verdict], VERDICT_TEXT[to.verdict]];
  const verdict = from.verdict === to.verdict ? `still ${is}` : `${was} becomes ${is}`;
  const place = from.rank === to.rank ? `place ${to.rank}` : `place ${from.rank} to ${to.rank}`;
  const [before, after] = [from.score.toFixed(2), to.score.toFixed(2)];
  const score = before === after || !isScored(from) || !isScored(to) ? '' : `, score ${before} to ${after}`;
  const why = criteria.map((one) =>
    changedText(one, (question, old, now) => `${question}: ${old} becomes ${now}`),
  );
  return `${name}: ${verdict}, ${place}${score}${why.length === 0 ? '' : ` (${why.join('; ')})`}`;
}
