import { questionText, VERDICT_TEXT } from './verdict-words.ts';
import type { Move, Stand } from './what-moved.ts';

const standText = ({ rank, verdict, score }: Stand): string =>
  `${VERDICT_TEXT[verdict]} (place ${rank}, score ${score.toFixed(2)})`;

const changedText = (
  { name, from, to }: Move['criteria'][number],
  told: (question: string, was: string, is: string) => string,
): string =>
  from === to ? questionText(name) : told(questionText(name), VERDICT_TEXT[from], VERDICT_TEXT[to]);

type NamedMove = Omit<Move, 'which'> & { readonly name: string };

/** One move in short: `Oatcake Knoll: not yet (place 9, score 0.61) → fits (place 4, score 0.82): climb not yet → fits`. */
export function moveText({ name, from, to, criteria }: NamedMove): string {
  const why = criteria.map((one) => changedText(one, (question, was, is) => `${question} ${was} → ${is}`));
  return `${name}: ${standText(from)} → ${standText(to)}${why.length === 0 ? '' : `: ${why.join(', ')}`}`;
}

/** The same in words: `Oatcake Knoll: not yet becomes fits, place 9 to 4, score 0.61 to 0.82 (climb: not yet becomes fits)`. */
export function moveSentence({ name, from, to, criteria }: NamedMove): string {
  const [was, is] = [VERDICT_TEXT[from.verdict], VERDICT_TEXT[to.verdict]];
  const verdict = from.verdict === to.verdict ? `still ${is}` : `${was} becomes ${is}`;
  const place = from.rank === to.rank ? `place ${to.rank}` : `place ${from.rank} to ${to.rank}`;
  const [before, after] = [from.score.toFixed(2), to.score.toFixed(2)];
  const score = before === after ? '' : `, score ${before} to ${after}`;
  const why = criteria.map((one) =>
    changedText(one, (question, old, now) => `${question}: ${old} becomes ${now}`),
  );
  return `${name}: ${verdict}, ${place}${score}${why.length === 0 ? '' : ` (${why.join('; ')})`}`;
}
