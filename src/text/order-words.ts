import type { PlaceCertainty } from '../rank/certainty.ts';
import type { Fit } from '../rank/fit.ts';
import { MS_PER_MIN } from '../units.ts';
import { questionText } from './criteria/index.ts';
import { tightestTrained } from './fit-words.ts';
import { durationText, percentText, plural } from './words.ts';

/** Groups of level places that are told for the whole list (design): nobody chooses among so many. */
const MOST_GROUPS = 6;

/** A route and its place among others. */
export interface Placed {
  readonly name: string;
  readonly rank: number | null;
  readonly certainty: PlaceCertainty | null;
}

export const placedOf = ({ route, rank, certainty }: Fit): Placed => ({ name: route.name, rank, certainty });

/** What a route has to spare: the tightest of what was trained, and minutes before the latest start. */
function spareOf(fit: Fit) {
  const { timeline } = fit;
  const latestMs = timeline?.storm.latestStartMs ?? null;
  const stormMin =
    timeline === null || latestMs === null ? null : (latestMs - timeline.earliestStartMs) / MS_PER_MIN;
  return { trained: tightestTrained(fit), stormMin };
}

function spareText({ trained, stormMin }: ReturnType<typeof spareOf>): string {
  const storms = stormMin === null ? 'no ground above treeline' : `storms ${durationText(stormMin)}`;
  if (trained === undefined) return storms;
  return `${questionText(trained.name)} ${percentText(trained.headroom)} and ${storms}`;
}

/** Why another route is oftener first than the first one, where both fit and it has more to spare; else empty. */
function whySeldomFirst(first: Fit, next: Fit): string {
  if (first.verdict !== 'fits' || next.verdict !== 'fits') return '';
  const [own, other] = [spareOf(first), spareOf(next)];
  const isTighter =
    (own.trained?.headroom ?? Infinity) < (other.trained?.headroom ?? Infinity) &&
    (own.stormMin ?? Infinity) < (other.stormMin ?? Infinity);
  if (!isTighter) return '';
  const scores = `${first.score.toFixed(2)} against ${next.score.toFixed(2)}`;
  return ` ${first.route.name} leads on the figures as they stand (${scores}), but with less to spare if the day is slower or the group weaker than figured: ${spareText(own)}, against ${spareText(other)}.`;
}

/**
 * How sure the order is, once for the whole list; empty where there is no order to be sure of.
 *
 * @param fits those of the list that are at hand: they say why the first is seldom first
 */
export function orderSentences(ranked: readonly Placed[], fits: readonly Fit[]): string[] {
  const [first, ...others] = ranked;
  const order = first?.certainty?.order ?? null;
  if (first === undefined || others.length === 0 || order === null || order.clearWinner === null) return [];
  const shareOf = ({ certainty }: Placed) => certainty?.firstShare ?? 0;
  const part = (placed: Placed) => percentText(shareOf(placed));
  const [next] = [...others].sort((a, b) => shareOf(b) - shareOf(a));
  const fitAt = (placed: Placed | undefined) =>
    fits.find(({ rank }) => rank !== null && rank === placed?.rank);
  const [firstFit, nextFit] = [fitAt(first), fitAt(next)];
  const isSeldom = next !== undefined && shareOf(next) > shareOf(first);
  const why = isSeldom && firstFit && nextFit ? whySeldomFirst(firstFit, nextFit) : '';
  const trials = `anked again ${order.trials.toLocaleString('en')} times, with weights, climb, pace and what was shown moved within their doubt,`;
  const opening = order.clearWinner ? `r${trials}` : `no clear winner. R${trials}`;
  const beside =
    next === undefined || shareOf(next) === 0 ? '' : `, ${next.name} (place ${next.rank}) in ${part(next)}`;
  const groups = order.level
    .slice(0, MOST_GROUPS)
    .map(({ from, to }) => `${from} ${to === from + 1 ? 'and' : 'to'} ${to}`);
  const beyond = order.level.length - groups.length;
  const further = beyond === 0 ? '' : `; and ${plural(beyond, 'more group')} further down`;
  const sentence = `How sure the order is: ${opening} ${first.name} comes first in ${part(first)}${beside}.${why}`;
  if (groups.length === 0) return [sentence];
  return [
    sentence,
    `Level, as their order changes too often: places ${groups.join('; ')}${further}. Choose among these by what the figures do not hold.`,
  ];
}
