/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChildren, VNode } from 'preact';
import { jsxTemplate } from 'preact/jsx-runtime';
import { renderToString } from 'preact-render-to-string';
import { html, Words, wordsIn } from '../../markup/words.tsx';
import { CRITERION_NAMES } from '../../rank/criteria/index.ts';
import { MEANING_OF_FITS } from '../../text/cautions.ts';
import { questionText } from '../../text/criteria/index.ts';
import { plural } from '../../text/words.ts';
import type { PageFrame } from '../page-frame.ts';
import { ReachNames } from '../reach.tsx';
import {
  type PlaceSure,
  type RowHtml,
  type ShortlistRow,
  type ShortlistView,
  type SortKey,
  shortlistPath,
} from './shortlist.ts';
import { DrawnCell, Reason } from './told-fit.tsx';

interface PartProps {
  readonly view: ShortlistView;
  readonly frame: PageFrame;
}

interface HeadProps extends PartProps {
  readonly sort: SortKey;
  readonly class?: string;
  readonly children: ComponentChildren;
}

/** A column's head; its link orders the list by it, and once more the other way round. */
function Head({ view, frame, sort, class: className, children }: HeadProps): VNode {
  const { asked, cohortId } = view;
  const isSorted = asked.sort === sort;
  const descending = isSorted && !asked.descending;
  return (
    <th
      scope="col"
      class={className}
      aria-sort={isSorted ? (asked.descending ? 'descending' : 'ascending') : undefined}
    >
      <a
        class="sort"
        data-within={`sort-${sort}`}
        href={frame.to(shortlistPath(cohortId, { ...asked, sort, descending, page: 1 }))}
      >
        {children}
      </a>
    </th>
  );
}

function Sure({ places, first, levelWith }: PlaceSure): VNode | null {
  if (places === null) return null;
  return (
    <p class="sure">
      {`place ${places} in nine trials of ten`}
      {first !== null && `; first in ${first}`}
      {levelWith !== null && `; places ${levelWith} are level`}
    </p>
  );
}

/** Texts of a row are escaped, so that none of them can hold this. */
const SURE_STANDS_HERE = '<!--sure-->';

function rowOf(row: ShortlistRow, path: string): VNode {
  const { name, trailhead, place, verdict, verdictText, score, marks, closest, day } = row;
  const { reasons, gaps, toCheck, notes } = row;
  const scored = score === null ? 'no score' : `score ${score}`;
  const titled = (title: string, texts: readonly string[]) =>
    texts.length > 0 && html`<p><strong>${title}:</strong> ${wordsIn(texts.join('; '))}</p>`;
  const figure = (title: string, text: string) =>
    html`<td class="num"><span class="name">${title} </span>${wordsIn(text)}</td>`;
  return html`
    <tbody class="${verdict}">
      <tr>
        <td class="place">${place}</td>
        <th scope="row">
          <a href="${path}">${name}</a>
          ${trailhead !== null && html`<span class="from">from ${trailhead}</span>`}
        </th>
        <td>
          <span class="verdict">${verdictText}</span> <span class="score">${scored}</span>
        </td>
        ${figure('length', row.length)}
        ${figure('climb', row.climb)}
        ${figure('top', row.top)}
        <td><span class="name">rock class </span>${row.rockClass}</td>
        ${DrawnCell({ marks, closest })}
      </tr>
      <tr class="why">
        <td></td>
        <td colspan="6">
          ${jsxTemplate([SURE_STANDS_HERE])}
          ${verdict !== 'fits' && reasons.slice(0, 1).map(Reason)}
          ${titled('would help', gaps)}
          ${titled('to check', toCheck)}
          <details>
            <summary>Why<span class="unseen"> ${name}</span>${day !== null && ', and the day'}</summary>
            ${(verdict === 'fits' ? reasons : reasons.slice(1)).map(Reason)}
            ${day !== null && html`<p><strong>the day:</strong> ${wordsIn(day)}</p>`}
            ${row.scoreText !== null && html`<p>${row.scoreText}</p>`}
            ${titled('note', notes)}
            <p class="screen"><a href="${path}">${name}: all twelve answers, map and plan</a></p>
          </details>
        </td>
      </tr>
    </tbody>
  `;
}

/**
 * A row in HTML. Rows are most of a page, and how sure their places are is known last: they are made while it is drawn.
 * @param path the page of the route for the cohort
 */
export function rowHtml(row: ShortlistRow, path: string): RowHtml {
  const [before = '', after = ''] = renderToString(rowOf(row, path)).split(SURE_STANDS_HERE);
  return [before, after];
}

function Pages({ view, frame }: PartProps): VNode | null {
  const { pages, asked, cohortId } = view;
  if (pages < 2) return null;
  const link = (page: number, text: string) => (
    <a class="button" data-within={text} href={frame.to(shortlistPath(cohortId, { ...asked, page }))}>
      {text}
    </a>
  );
  return (
    <nav class="row" aria-label="Pages of the list">
      {asked.page > 1 && link(asked.page - 1, 'Before')}
      <span>
        page {asked.page} of {pages}
      </span>
      {asked.page < pages && link(asked.page + 1, 'Next')}
    </nav>
  );
}

/**
 * The part of a cohort's page that changes with what is asked: the list itself, and what is to be said of all of it.
 * Long because it is markup: the page from its top to its end.
 */
function ShortlistPart({ view, frame }: PartProps): VNode {
  const { rows, asked, order, moved, caution, toCheckForAll } = view;
  const byCriterion = CRITERION_NAMES.find((name) => name === asked.sort);
  return (
    <>
      <p class="lead" data-summary>
        <Words text={view.summary} />
      </p>
      {caution !== null && (
        <p class="box notice caution">
          <strong>
            <Words text={caution} />
          </strong>
        </p>
      )}
      {moved !== null && (
        <div class="box notice">
          <h3>As it would be with these changes</h3>
          <p>
            Nothing of it is stored, and the page and plan of a route are without them.{' '}
            <a
              class="screen"
              href={`${frame.to(shortlistPath(view.cohortId, { ...asked, changes: [], page: 1 }))}#shortlist`}
            >
              Take them back
            </a>
          </p>
          {moved.length === 0 ? (
            <p>Nothing moves.</p>
          ) : (
            <ul>
              {moved.map((text) => (
                <li>
                  <Words text={text} />
                </li>
              ))}
              {view.movedBeside > 0 && <li>and {plural(view.movedBeside, 'other route')}</li>}
            </ul>
          )}
        </div>
      )}
      {order.length > 0 && (
        <p class="order">
          {order.map((sentence) => (
            <>
              <Words text={sentence} />{' '}
            </>
          ))}
        </p>
      )}
      {toCheckForAll.length > 0 && (
        <p>
          <strong>To check for all of these:</strong> {toCheckForAll.join('; ')}.
        </p>
      )}
      {rows.length === 0 ? (
        <p class="box">
          No route is left with these filters.{' '}
          <a href={frame.to(`/cohorts/${view.cohortId}?date=${asked.date}`)}>Show all</a>
        </p>
      ) : (
        <table class="cards shortlist">
          <caption class="unseen">
            Routes in order of{' '}
            {byCriterion === undefined ? asked.sort : `room in: ${questionText(byCriterion)}`}
          </caption>
          <thead>
            <tr>
              <Head view={view} frame={frame} sort="place">
                Place
              </Head>
              <Head view={view} frame={frame} sort="name">
                Route
              </Head>
              <th scope="col">Verdict</th>
              <Head view={view} frame={frame} sort="length" class="num">
                Length
              </Head>
              <Head view={view} frame={frame} sort="climb" class="num">
                Climb
              </Head>
              <Head view={view} frame={frame} sort="top" class="num">
                Top
              </Head>
              <Head view={view} frame={frame} sort="rockClass">
                Class
              </Head>
              <th
                scope="col"
                aria-sort={
                  byCriterion === undefined || byCriterion === 'rockClass'
                    ? undefined
                    : asked.descending
                      ? 'descending'
                      : 'ascending'
                }
              >
                <span class="unseen">Demand against what the group can do</span>
                <ReachNames columns={CRITERION_NAMES.length} />
              </th>
            </tr>
          </thead>
          {rows.map(({ html, sure }) => jsxTemplate([...html], <Sure {...sure} />))}
        </table>
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
