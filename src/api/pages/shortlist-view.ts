import type { Judgement } from '../../fit/criterion.ts';
import { CRITERION_NAMES } from '../../fit/criterion.ts';
import type { Fit } from '../../fit/rank-routes.ts';
import {
  askedOfAll,
  countsText,
  dayText,
  deadlineText,
  orderSentences,
  placesText,
  tellingJudgements,
} from '../../fit/shortlist-words.ts';
import { VERDICTS } from '../../fit/verdict.ts';
import { questionText, VERDICT_TEXT } from '../../fit/verdict-words.ts';
import { climbText, heightText, lengthText, percentText, plural } from '../../fit/words.ts';
import type { StoredFit } from '../../library.ts';
import type { UnitSystem } from '../../units.ts';
import type { ShortlistAsked, ShortlistRow, ShortlistView, SortKey } from '../../web/pages/shortlist-view.ts';
import type { ReachMark } from '../../web/reach.tsx';

/** Routes on a page (design). */
const ROWS = 50;
/** A first place more seldom than this is not told (design). */
const LEAST_SHARE = 0.005;

const SORT_KEYS: readonly SortKey[] = ['place', 'name', 'length', 'climb', 'top', ...CRITERION_NAMES];

/** What a page's address asks, the date apart; what is not known is left out. */
export function askedOf(query: URLSearchParams, date: string): ShortlistAsked {
  const sortText = query.get('sort') ?? 'place';
  const descending = sortText.startsWith('-');
  const sort = SORT_KEYS.find((key) => key === sortText.replace(/^-/, '')) ?? 'place';
  const page = Number(query.get('page') ?? 1);
  return {
    date,
    verdicts: VERDICTS.filter((verdict) => query.getAll('verdict').includes(verdict)),
    text: (query.get('q') ?? '').trim().slice(0, 100),
    sort,
    descending,
    page: Number.isSafeInteger(page) && page > 0 ? page : 1,
  };
}

/** What a list is ordered by; `null` stands last, either way round. */
function keyOf({ fit }: StoredFit, sort: SortKey): number | string | null {
  const { measures } = fit.route;
  switch (sort) {
    case 'place':
      return fit.rank;
    case 'name':
      return fit.route.name;
    case 'length':
      return measures.distanceM;
    case 'climb':
      return measures.gainM?.value ?? null;
    case 'top':
      return measures.highM;
    default: {
      const headroom = fit.judgements.find(({ name }) => name === sort)?.headroom ?? null;
      return headroom === null ? null : -headroom;
    }
  }
}

const collator = new Intl.Collator('en', { numeric: true });

function ordered(fits: readonly StoredFit[], { sort, descending }: ShortlistAsked): readonly StoredFit[] {
  const sign = descending ? -1 : 1;
  return [...fits].sort((a, b) => {
    const one = keyOf(a, sort);
    const other = keyOf(b, sort);
    if (one === null || other === null) return one === other ? 0 : one === null ? 1 : -1;
    return typeof one === 'string' || typeof other === 'string'
      ? sign * collator.compare(String(one), String(other))
      : sign * (one - other);
  });
}

/** A judgement as a column of the drawing. */
export function markOf({ name, headroom, verdict, toCheck }: Judgement): ReachMark {
  const isMet = verdict === 'fits' || verdict === 'stretch';
  return {
    name,
    ratio: headroom === null ? null : 1 / (1 + headroom),
    met: verdict === 'incomplete' || (isMet && toCheck !== undefined) ? 'notKnown' : isMet ? 'yes' : 'no',
  };
}

/** The two greatest demands for what can be done: `climb 98 %, drive 95 %`. */
function closestText(marks: readonly ReachMark[]): string | null {
  const greatest = marks
    .flatMap(({ name, ratio }) => (ratio === null || name === 'aim' ? [] : [{ name, ratio }]))
    .sort((a, b) => b.ratio - a.ratio)
    .slice(0, 2);
  if (greatest.length === 0) return null;
  return greatest.map(({ name, ratio }) => `${questionText(name)} ${percentText(ratio)}`).join(', ');
}

function rowOf({ id, fit }: StoredFit, asked: ReadonlySet<string>, units: UnitSystem): ShortlistRow {
  const { route, standing, rank, verdict } = fit;
  const { measures, attributes } = route;
  const share = standing?.firstShare ?? null;
  const places = placesText(fit);
  const marks = fit.judgements.map(markOf);
  const level = standing?.order.level.find(({ from, to }) => rank !== null && from <= rank && rank <= to);
  const isOpen = verdict !== 'ruledOut' && verdict !== 'incomplete';
  return {
    id,
    name: route.name,
    trailhead: attributes.trailhead?.name ?? null,
    place: rank ?? 0,
    places: places === '–' ? null : places,
    first: share !== null && share >= LEAST_SHARE ? percentText(share) : null,
    levelWith: level === undefined || !isOpen ? null : `${level.from} to ${level.to}`,
    verdict,
    verdictText: VERDICT_TEXT[verdict],
    score: fit.score.toFixed(2),
    length: lengthText(measures.distanceM, units),
    climb: measures.gainM === null ? 'not known' : climbText(measures.gainM.value, units),
    top: measures.highM === null ? 'not known' : heightText(measures.highM, units),
    rockClass: attributes.rockClass ?? 'not stated',
    marks,
    closest: closestText(marks),
    day: isOpen ? dayText(fit) : null,
    reasons: tellingJudgements(fit).map((judgement) => ({
      question: questionText(judgement.name),
      verdict: judgement.verdict,
      text: judgement.reason,
    })),
    gaps: verdict === 'notYet' || verdict === 'stretch' ? fit.gap.map(({ text }) => text) : [],
    toCheck: verdict === 'ruledOut' ? [] : fit.toCheck.filter((text) => !asked.has(text)),
    notes: route.notes
      .filter((note) => note.code !== 'treeline-unknown')
      .map(({ text }) => text.replace(/\.$/, '')),
  };
}

/** A page of a shortlist, from all routes in order of fit. */
export function shortlistViewOf(
  cohortId: string,
  ranked: readonly StoredFit[],
  asked: ShortlistAsked,
  units: UnitSystem,
): ShortlistView {
  const fits = ranked.map(({ fit }) => fit);
  const wanted = asked.text.toLowerCase();
  const shown = ranked.filter(({ fit: { verdict, route } }) => {
    if (asked.verdicts.length > 0 && !asked.verdicts.includes(verdict)) return false;
    return `${route.name} ${route.attributes.trailhead?.name ?? ''}`.toLowerCase().includes(wanted);
  });
  const pages = Math.max(1, Math.ceil(shown.length / ROWS));
  const page = Math.min(asked.page, pages);
  const ofAll = askedOfAll(fits);
  const asksAll = new Set(ofAll);
  const timeline = fits.find((fit: Fit) => fit.timeline !== null)?.timeline ?? null;
  const some = shown.length < fits.length ? `${shown.length} of ` : '';
  return {
    cohortId,
    asked: { ...asked, page },
    summary: `${asked.date}: ${some}${plural(fits.length, 'route')}${
      shown.length === 0 ? '' : `: ${countsText(shown.map(({ fit }) => fit))}`
    }.`,
    order: [...orderSentences(fits), ...(timeline === null ? [] : [deadlineText(timeline)])],
    toCheckForAll: ofAll,
    rows: ordered(shown, asked)
      .slice((page - 1) * ROWS, page * ROWS)
      .map((one) => rowOf(one, asksAll, units)),
    pages,
    stored: fits.length,
  };
}
