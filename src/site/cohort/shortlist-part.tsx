import { jsxTemplate } from 'preact/jsx-runtime';
import { renderToString } from 'preact-render-to-string';
import type { StoredFit } from '../../app/explained-fits.ts';
import type { ListedRoute, NamedMove } from '../../app/shortlist.ts';
import { Words } from '../../markup/words.tsx';
import { CRITERION_NAMES } from '../../rank/criteria/index.ts';
import type { ListCertainty } from '../../sampling/certainty.ts';
import { MEANING_OF_FITS } from '../../text/cautions.ts';
import { questionText } from '../../text/criteria/index.ts';
import { askedOfAll } from '../../text/fit-words.ts';
import { moveSentence } from '../../text/moved-words.ts';
import { orderSentences } from '../../text/order-words.ts';
import { countsText, deadlineText, laterDeadlineText } from '../../text/shortlist-words.ts';
import { plural, weekdayText } from '../../text/words.ts';
import type { PageFrame } from '../page.ts';
import { WordList } from '../parts.tsx';
import { ReachNames } from '../reach.tsx';
import { type ShortlistAsked, type SortKey, shortlistPath, shownOf } from './shortlist.ts';
import { type RowHtml, Sure } from './shortlist-row.tsx';

/** Moved routes that are told one by one (design). */
const MOST_MOVED = 8;

export interface ShortlistView {
  readonly cohortId: string;
  readonly asked: ShortlistAsked;
  readonly listed: readonly ListedRoute[];
  readonly wanted: readonly ListedRoute[];
  /** Those of this page, and their rows. */
  readonly fits: readonly StoredFit[];
  readonly rows: readonly RowHtml[];
  readonly certainty: ListCertainty;
  readonly moved: readonly NamedMove[];
}

interface PartProps {
  readonly view: ShortlistView;
  readonly frame: PageFrame;
}

const sortedBy = ({ descending }: ShortlistAsked, isSorted: boolean) =>
  isSorted ? (descending ? 'descending' : 'ascending') : undefined;

function Pages({ view, frame }: PartProps) {
  const { asked, wanted, cohortId } = view;
  const { page, pages } = shownOf(wanted, asked);
  if (pages < 2) return null;
  const link = (to: number, text: string) => (
    <a class="button" data-within={text} href={frame.to(shortlistPath(cohortId, { ...asked, page: to }))}>
      {text}
    </a>
  );
  return (
    <nav class="row" aria-label="Pages of the list">
      {page > 1 && link(page - 1, 'Before')}
      <span>
        page {page} of {pages}
      </span>
      {page < pages && link(page + 1, 'Next')}
    </nav>
  );
}

function Moved({ view, frame }: PartProps) {
  const { moved, asked, cohortId } = view;
  // First those whose verdict is another: they can be chosen now, or no longer.
  const inOrder = [...moved].sort(
    (a, b) => Number(a.from.verdict === a.to.verdict) - Number(b.from.verdict === b.to.verdict),
  );
  const more = moved.length - MOST_MOVED;
  const backPath = shortlistPath(cohortId, { ...asked, changes: [], page: 1 });
  return (
    <div class="box notice">
      <h3>As it would be with these changes</h3>
      <p>
        Nothing of it is stored, and the page and plan of a route are without them.{' '}
        <a class="screen" href={`${frame.to(backPath)}#shortlist`}>
          Take them back
        </a>
      </p>
      {moved.length === 0 ? (
        <p>Nothing moves.</p>
      ) : (
        <WordList
          texts={[
            ...inOrder.slice(0, MOST_MOVED).map(moveSentence),
            ...(more > 0 ? [`and ${plural(more, 'other route')}`] : []),
          ]}
        />
      )}
    </div>
  );
}

function Table({ view, frame }: PartProps) {
  const { cohortId, asked, fits, rows } = view;
  const byCriterion = CRITERION_NAMES.find((name) => name === asked.sort);
  const by = byCriterion === undefined ? asked.sort : `room in: ${questionText(byCriterion)}`;
  /** Its link orders the list by it, and once more the other way round. */
  const head = (text: string, sort: SortKey, className?: string) => {
    const isSorted = asked.sort === sort;
    const next = { ...asked, sort, descending: isSorted && !asked.descending, page: 1 };
    const path = frame.to(shortlistPath(cohortId, next));
    return (
      <th scope="col" class={className} aria-sort={sortedBy(asked, isSorted)}>
        <a class="sort" data-within={`sort-${sort}`} href={path}>
          {text}
        </a>
      </th>
    );
  };
  return (
    <table class="cards shortlist">
      <caption class="unseen">Routes in order of {by}</caption>
      <thead>
        <tr>
          {head('Place', 'place')}
          {head('Route', 'name')}
          <th scope="col">Verdict</th>
          {head('Length', 'length', 'num')}
          {head('Climb', 'climb', 'num')}
          {head('Top', 'top', 'num')}
          {head('Class', 'rockClass')}
          <th
            scope="col"
            aria-sort={sortedBy(asked, byCriterion !== undefined && byCriterion !== 'rockClass')}
          >
            <span class="unseen">Demand against what the group can do</span>
            <ReachNames columns={CRITERION_NAMES.length} />
          </th>
        </tr>
      </thead>
      {fits.map(({ fit }, i) => jsxTemplate([...(rows[i] ?? [])], <Sure fit={fit} />))}
    </table>
  );
}

/** The part of a cohort's page that changes with what is asked: the list itself, and what is to be said of all of it. */
function ShortlistPart({ view, frame }: PartProps) {
  const { asked, listed, wanted, certainty } = view;
  const fits = view.fits.map(({ fit }) => fit);
  const timeline = fits.find((fit) => fit.timeline !== null)?.timeline ?? null;
  const caution = timeline === null ? null : laterDeadlineText(timeline);
  const counts = countsText(wanted.map(({ verdict }) => verdict));
  const some = wanted.length < listed.length ? `${wanted.length} of ` : '';
  const ranks = listed.map(({ name, rank }) => ({ name, rank, certainty: certainty.at(rank) }));
  const order = [...orderSentences(ranks, fits), ...(timeline === null ? [] : [deadlineText(timeline)])];
  const toCheck = askedOfAll(fits, frame.units);
  return (
    <>
      <p class="lead" data-summary>
        <Words
          text={`${weekdayText(asked.date)}: ${some}${plural(listed.length, 'route')}${counts === '' ? '' : `: ${counts}`}.`}
        />
      </p>
      {caution !== null && (
        <p class="box notice caution">
          <strong>
            <Words text={caution} />
          </strong>
        </p>
      )}
      {asked.changes.length > 0 && <Moved view={view} frame={frame} />}
      {order.length > 0 && (
        <p class="order">
          {order.map((sentence) => (
            <>
              <Words text={sentence} />{' '}
            </>
          ))}
        </p>
      )}
      {toCheck.length > 0 && (
        <p>
          <strong>To check for all of these:</strong> {toCheck.join('; ')}.
        </p>
      )}
      {fits.length === 0 ? (
        <p class="box">
          No route is left with these filters.{' '}
          <a href={frame.to(`/cohorts/${view.cohortId}?date=${asked.date}`)}>Show all</a>
        </p>
      ) : (
        <Table view={view} frame={frame} />
      )}
      <Pages view={view} frame={frame} />
      <p class="quiet">{MEANING_OF_FITS}</p>
    </>
  );
}

/** The part alone, for a page that stands already or begins before it. */
export const shortlistFragment = (view: ShortlistView, frame: PageFrame): string =>
  renderToString(<ShortlistPart view={view} frame={frame} />);

/** Why the part is not there, where that is found out when the page stands already. */
export const shortlistFaultFragment = (text: string): string =>
  renderToString(
    <div class="box notice" role="alert">
      <p>
        <strong>The list could not be made.</strong> {text}
      </p>
    </div>,
  );

export const SHORTLIST_STYLE = `
.sort{display:inline-flex;min-height:2.75rem;align-items:flex-end;text-decoration:none;white-space:nowrap}
.sort:hover{text-decoration:underline}
.sort::after{content:"";width:.6rem;height:.45rem;margin:0 0 .4rem .3rem;border-block:1px solid var(--faint);align-self:flex-end}
[aria-sort] .sort::after{width:0;height:0;border:.33rem solid transparent;border-bottom-color:currentColor;border-top:0}
[aria-sort=descending] .sort::after{border-top:.33rem solid;border-bottom:0}
.shortlist td,.shortlist th{padding-right:1rem}
.shortlist thead th:last-child,.shortlist .drawn{padding-right:0}
.shortlist tbody tr:first-child>*{border-bottom:0;padding-top:.7rem}
.shortlist .place{font:600 1.25rem/1.2 "Iowan Old Style",Palatino,"Noto Serif",Georgia,serif}
.shortlist .from{display:block;font-weight:400;font-size:.875rem;color:var(--faint)}
.shortlist tbody th a{display:inline-block;padding:.55rem 0;margin:-.55rem 0;font-size:1.08rem}
.verdict{font-weight:600;white-space:nowrap}
.score{display:block;font-size:.875rem;color:var(--faint);white-space:nowrap}
.fits .verdict{border-bottom:3px solid currentColor}
.stretch .verdict{border-bottom:3px dashed currentColor}
.notYet .verdict,.incomplete .verdict{border-bottom:2px dotted currentColor}
.ruledOut .verdict{font-weight:400}
.why td{padding-top:0;font-size:.92rem}
.why p{margin:.1rem 0;max-width:60rem}
.why .sure{color:var(--faint)}
.shortlist tbody tr:first-child>.drawn{border-bottom:1px solid var(--hair)}
.closest{display:block;font-size:.875rem;color:var(--faint)}
.shortlist .names text{font-weight:400}
.why details>summary{padding-block:.35rem;display:inline-flex;align-items:center}
.why details>summary::before{content:"+ ";white-space:pre}
.why details[open]>summary::before{content:"− "}
.narrow{display:none}
#shortlist[aria-busy=true] table{opacity:.55}
@media screen and (max-width:52rem){
.shortlist tbody{display:block;border:1px solid var(--hair);padding:.5rem .8rem;margin:.7rem 0}
.shortlist tr{border:0;padding:0;margin:0}
.shortlist .place{float:left;margin-right:.7rem}
.shortlist .why td:first-child{display:none}
.shortlist .score{display:inline}
.shortlist tbody tr:first-child>.drawn{padding:.3rem 0;border:0}
.shortlist .drawn,.shortlist .why td{display:block;margin:0}
.narrow{display:block}
}
@media print{
.narrow,.sort::after{display:none}
.order,.why td,.closest,.score,.shortlist .from{font-size:9pt}
#reach-names text{font-size:14px}
.shortlist .reach{width:56mm;max-width:none}
.shortlist td,.shortlist th{padding-right:2mm}
}
`;
