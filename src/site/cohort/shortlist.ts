/** What is asked of a shortlist, and the routes that answer it. */
import type { ListedRoute } from '../../app/shortlist.ts';
import { CRITERION_NAMES } from '../../rank/criteria/index.ts';
import { VERDICTS } from '../../rank/verdict.ts';
import { askedChanges } from './what-if-form.ts';

/** Routes on a page (design): so many weigh under 100 kB, their drawings not counted. */
const ROWS = 30;

/** What a list can be ordered by, beside criteria: figures of its routes. */
const FIGURES = { place: 'rank', name: 'name', length: 'distanceM', climb: 'gainM', top: 'highM' } as const;

export const SORT_KEYS = [...(Object.keys(FIGURES) as (keyof typeof FIGURES)[]), ...CRITERION_NAMES];
export type SortKey = (typeof SORT_KEYS)[number];

/** Everything that stands in the address of a shortlist, the date apart; what is not known is left out. */
export function askedOf(query: URLSearchParams, date: string) {
  const sortText = query.get('sort') ?? 'place';
  const page = Number(query.get('page') ?? 1);
  return {
    date,
    verdicts: VERDICTS.filter((verdict) => query.getAll('verdict').includes(verdict)),
    /** Only routes with this text in their name or trailhead. */
    text: (query.get('q') ?? '').trim().slice(0, 100),
    sort: SORT_KEYS.find((key) => key === sortText.replace(/^-/, '')) ?? 'place',
    descending: sortText.startsWith('-'),
    page: Number.isSafeInteger(page) && page > 0 ? page : 1,
    /** What is asked to be otherwise than it is stored: fields and their texts; empty: nothing. */
    changes: askedChanges(query),
  };
}

export type ShortlistAsked = Readonly<ReturnType<typeof askedOf>>;

/** The address of a shortlist; what is as usual is left out. */
export function shortlistPath(cohortId: string, asked: ShortlistAsked): string {
  const query = new URLSearchParams({ date: asked.date });
  for (const verdict of asked.verdicts) query.append('verdict', verdict);
  if (asked.text !== '') query.set('q', asked.text);
  if (asked.sort !== 'place' || asked.descending)
    query.set('sort', `${asked.descending ? '-' : ''}${asked.sort}`);
  for (const [field, text] of asked.changes) query.append(field, text);
  if (asked.page > 1) query.set('page', String(asked.page));
  return `/cohorts/${cohortId}?${query}`;
}

/** What a list is ordered by; `null` stands last, either way round. */
function keyOf(route: ListedRoute, sort: SortKey): number | string | null {
  if (sort in FIGURES) return route[FIGURES[sort as keyof typeof FIGURES]];
  const value = route.valueOf(sort as (typeof CRITERION_NAMES)[number]);
  return value === null ? null : -value;
}

const collator = new Intl.Collator('en', { numeric: true });

/** The routes that are wanted, in the order wanted; a name matches by itself or by its trailhead. */
export function chosen(
  listed: readonly ListedRoute[],
  { verdicts, text, sort, descending }: ShortlistAsked,
  trailheads: ReadonlyMap<string, string | null>,
): readonly ListedRoute[] {
  const wanted = listed.filter(
    ({ id, name, verdict }) =>
      (verdicts.length === 0 || verdicts.includes(verdict)) &&
      (text === '' || `${name} ${trailheads.get(id) ?? ''}`.toLowerCase().includes(text.toLowerCase())),
  );
  return wanted.sort((a, b) => {
    const [one, other] = [keyOf(a, sort), keyOf(b, sort)];
    if (one === null || other === null) return one === other ? 0 : one === null ? 1 : -1;
    const difference =
      typeof one === 'string' || typeof other === 'string'
        ? collator.compare(String(one), String(other))
        : one - other;
    return (descending ? -difference : difference) || a.rank - b.rank;
  });
}

/** The routes of the page that is asked for, which page that is, and how many there are. */
export function shownOf(routes: readonly ListedRoute[], asked: ShortlistAsked) {
  const pages = Math.max(1, Math.ceil(routes.length / ROWS));
  const page = Math.min(asked.page, pages);
  return { shown: routes.slice((page - 1) * ROWS, page * ROWS), page, pages };
}
