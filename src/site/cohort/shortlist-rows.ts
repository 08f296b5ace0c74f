import type { StoredFit } from '../../app/explained-fits.ts';
import type { ListedRoute, NamedMove } from '../../app/shortlist.ts';
import type { Design } from '../../design.ts';
import type { CohortInput } from '../../ingest/cohort-file.ts';
import { CRITERION_NAMES } from '../../rank/criteria/index.ts';
import type { Judgement } from '../../rank/judgement.ts';
import { VERDICTS } from '../../rank/verdict.ts';
import type { ListCertainty } from '../../sampling/certainty.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import { isToCheck, questionText } from '../../text/criteria/index.ts';
import { askedOfAll, helpsOf, questionsOf, reasonsOf } from '../../text/fit-words.ts';
import { moveSentence } from '../../text/moved-words.ts';
import { noteClause } from '../../text/notes.ts';
import { orderSentences } from '../../text/order-words.ts';
import {
  canBeChosen,
  countsText,
  dayText,
  deadlineText,
  driveOf,
  laterDeadlineText,
  placesText,
  scoreText,
  shortNightText,
} from '../../text/shortlist-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import {
  climbText,
  heightText,
  lengthText,
  percentText,
  plural,
  weekdayText,
  withoutStop,
} from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import type { PageFrame } from '../page-frame.ts';
import type { ReachMark } from '../reach.tsx';
import type {
  PlaceSure,
  RowHtml,
  ShortlistAsked,
  ShortlistRow,
  ShortlistView,
  SortKey,
} from './shortlist.ts';
import { rowHtml } from './shortlist-part.tsx';
import { askedChanges } from './what-if-form.ts';

/** Routes on a page (design): so many weigh under 100 kB, their drawings not counted. */
const ROWS = 30;
/** Moved routes that are told one by one (design). */
const MOST_MOVED = 8;
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
    changes: askedChanges(query),
  };
}

/** What a list is ordered by; `null` stands last, either way round. */
function keyOf(route: ListedRoute, sort: SortKey): number | string | null {
  switch (sort) {
    case 'place':
      return route.rank;
    case 'name':
      return route.name;
    case 'length':
      return route.distanceM;
    case 'climb':
      return route.gainM;
    case 'top':
      return route.highM;
    default: {
      const value = route.valueOf(sort);
      return value === null ? null : -value;
    }
  }
}

const collator = new Intl.Collator('en', { numeric: true });

function ordered(
  routes: readonly ListedRoute[],
  { sort, descending }: ShortlistAsked,
): readonly ListedRoute[] {
  const sign = descending ? -1 : 1;
  return [...routes].sort((a, b) => {
    const one = keyOf(a, sort);
    const other = keyOf(b, sort);
    if (one === null || other === null) return one === other ? 0 : one === null ? 1 : -1;
    const difference =
      typeof one === 'string' || typeof other === 'string'
        ? collator.compare(String(one), String(other))
        : one - other;
    return sign * difference || a.rank - b.rank;
  });
}

/** A judgement as a column of the drawing. */
export function markOf(judgement: Judgement): ReachMark {
  const { name, headroom, verdict } = judgement;
  const isMet = verdict === 'fits' || verdict === 'stretch';
  return {
    name,
    ratio: headroom === null ? null : 1 / (1 + headroom),
    met:
      name === 'aim' && headroom !== null
        ? 'wish'
        : verdict === 'incomplete' || (isMet && isToCheck(judgement))
          ? 'notKnown'
          : isMet
            ? 'yes'
            : 'no',
  };
}

/** The two greatest demands for what can be done: `climb 98 %, drive 95 %`. */
export function closestText(marks: readonly ReachMark[]): string | null {
  const greatest = marks
    .flatMap(({ name, ratio }) => (ratio === null || name === 'aim' ? [] : [{ name, ratio }]))
    .sort((a, b) => b.ratio - a.ratio)
    .slice(0, 2);
  if (greatest.length === 0) return null;
  return greatest.map(demandText).join(', ');
}

/** A road that no vehicle manages has no share; where one does, seats are what is short. */
function demandText({ name, ratio }: Pick<ReachMark, 'name'> & { readonly ratio: number }): string {
  if (!Number.isFinite(ratio)) return `${questionText(name)} not met`;
  return `${name === 'roadAccess' ? 'seats' : questionText(name)} ${percentText(ratio)}`;
}

/** How sure the place of a route is. */
function sureOf({ fit }: StoredFit): PlaceSure {
  const { certainty, rank } = fit;
  const share = certainty?.firstShare ?? null;
  const places = placesText(fit);
  const level = certainty?.order.level.find(({ from, to }) => rank !== null && from <= rank && rank <= to);
  return {
    places: places === '–' ? null : places,
    first: share !== null && share >= LEAST_SHARE ? percentText(share) : null,
    levelWith: level === undefined || !canBeChosen(fit) ? null : `${level.from} to ${level.to}`,
  };
}

function rowOf(
  { id, fit }: StoredFit,
  asked: ReadonlySet<string>,
  cohort: Pick<CohortInput, 'ageBand'>,
  design: Design,
  units: UnitSystem,
): ShortlistRow {
  const { route, rank, verdict } = fit;
  const { measures, attributes } = route;
  const marks = fit.judgements.map(markOf);
  const isOpen = canBeChosen(fit);
  const drive = driveOf(fit, cohort, design);
  const night = shortNightText(drive);
  const stated = isOpen ? attributes.notes : null;
  return {
    id,
    name: route.name,
    trailhead: attributes.trailhead?.name ?? null,
    place: rank ?? 0,
    verdict,
    verdictText: VERDICT_TEXT[verdict],
    score: isOpen ? fit.score.toFixed(2) : null,
    length: lengthText(measures.distanceM, units),
    climb: measures.gainM === null ? 'not known' : climbText(measures.gainM.value, units),
    top: measures.highM === null ? 'not known' : heightText(measures.highM, units),
    rockClass: attributes.rockClass ?? 'not stated',
    marks,
    closest: closestText(marks),
    day: isOpen ? dayText(fit, drive?.departMs ?? null) : null,
    reasons: reasonsOf(fit, units).map(({ names, verdict: judged, reason }) => ({
      question: names.map(questionText).join(', '),
      verdict: judged,
      text: reason,
    })),
    gaps: helpsOf(fit, units),
    scoreText: isOpen ? scoreText(fit, design.weights) : null,
    toCheck: verdict === 'ruledOut' ? [] : questionsOf(fit, units).filter((text) => !asked.has(text)),
    notes: [
      ...(stated == null ? [] : [`noted with the route: ${withoutStop(stated)}`]),
      ...(night === null ? [] : [night]),
      ...route.notes.filter(({ code }) => code !== 'treeline-unknown').map((note) => noteClause(note, units)),
    ],
  };
}

/** The rows of a page in HTML, but for how sure their places are. */
export function rowsOf(
  fits: readonly StoredFit[],
  { id: cohortId, cohort }: StoredCohort,
  date: string,
  design: Design,
  { units, to }: Pick<PageFrame, 'units' | 'to'>,
): readonly RowHtml[] {
  const asked = new Set(
    askedOfAll(
      fits.map(({ fit }) => fit),
      units,
    ),
  );
  return fits.map((one) =>
    rowHtml(
      rowOf(one, asked, cohort, design, units),
      to(`/cohorts/${cohortId}/routes/${one.id}?date=${date}`),
    ),
  );
}

/** The routes that are wanted, in the order wanted; a name matches by itself or by its trailhead. */
export function chosen(
  listed: readonly ListedRoute[],
  asked: ShortlistAsked,
  trailheads: ReadonlyMap<string, string | null>,
): readonly ListedRoute[] {
  const text = asked.text.toLowerCase();
  const wanted = listed.filter(({ id, name, verdict }) => {
    if (asked.verdicts.length > 0 && !asked.verdicts.includes(verdict)) return false;
    return text === '' || `${name} ${trailheads.get(id) ?? ''}`.toLowerCase().includes(text);
  });
  return ordered(wanted, asked);
}

/** Pages of so many routes, and the one that is shown. */
function pageOf(count: number, { page }: ShortlistAsked) {
  const pages = Math.max(1, Math.ceil(count / ROWS));
  return { pages, page: Math.min(page, pages) };
}

/** The part of the chosen routes that is told in words. */
export function shownOf(routes: readonly ListedRoute[], asked: ShortlistAsked): readonly ListedRoute[] {
  const { page } = pageOf(routes.length, asked);
  return routes.slice((page - 1) * ROWS, page * ROWS);
}

/** What a page of a shortlist is made of. */
interface FoundRoutes {
  /** All routes of the ranking. */
  readonly listed: readonly ListedRoute[];
  /** Those that are asked for. */
  readonly wanted: readonly ListedRoute[];
  /** Those of this page, and their rows. */
  readonly fits: readonly StoredFit[];
  readonly rows: readonly RowHtml[];
  readonly certainty: ListCertainty;
  readonly moved: readonly NamedMove[];
}

/** A page of a shortlist. */
export function shortlistViewOf(
  cohortId: string,
  { listed, wanted, fits, rows, certainty, moved }: FoundRoutes,
  asked: ShortlistAsked,
  units: UnitSystem,
): ShortlistView {
  const { pages, page } = pageOf(wanted.length, asked);
  const ofAll = askedOfAll(
    fits.map(({ fit }) => fit),
    units,
  );
  const timeline = fits.find(({ fit }) => fit.timeline !== null)?.fit.timeline ?? null;
  const some = wanted.length < listed.length ? `${wanted.length} of ` : '';
  const counts = countsText(wanted.map(({ verdict }) => verdict));
  return {
    cohortId,
    asked: { ...asked, page },
    summary: `${weekdayText(asked.date)}: ${some}${plural(listed.length, 'route')}${counts === '' ? '' : `: ${counts}`}.`,
    order: [
      ...orderSentences(
        listed.map(({ name, rank }) => ({ name, rank, certainty: certainty.at(rank) })),
        fits.map(({ fit }) => fit),
      ),
      ...(timeline === null ? [] : [deadlineText(timeline)]),
    ],
    caution: timeline === null ? null : laterDeadlineText(timeline),
    toCheckForAll: ofAll,
    moved:
      asked.changes.length === 0
        ? null
        : [...moved]
            // First those whose verdict is another: they can be chosen now, or no longer.
            .sort((a, b) => Number(a.from.verdict === a.to.verdict) - Number(b.from.verdict === b.to.verdict))
            .slice(0, MOST_MOVED)
            .map(moveSentence),
    movedBeside: Math.max(0, moved.length - MOST_MOVED),
    rows: fits.flatMap((one, i) => {
      const html = rows[i];
      return html === undefined ? [] : [{ html, sure: sureOf(one) }];
    }),
    pages,
  };
}
