import { jsxTemplate } from 'preact/jsx-runtime';
import { renderToString } from 'preact-render-to-string';
import type { StoredFit } from '../../app/explained-fits.ts';
import type { Design } from '../../design.ts';
import { html, wordsIn } from '../../markup/words.tsx';
import type { Fit } from '../../rank/fit.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import { questionText } from '../../text/criteria/index.ts';
import { askedOfAll, helpsOf, questionsOf, reasonsOf } from '../../text/fit-words.ts';
import { noteClause } from '../../text/notes.ts';
import {
  canBeChosen,
  dayText,
  driveOf,
  placesText,
  scoreText,
  shortNightText,
} from '../../text/shortlist-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { percentText, withoutStop } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import type { PageFrame } from '../page.ts';
import { closestText, marksOf, Reach, ReachNames } from '../reach.tsx';
import { figuresOf } from '../routes/route-words.ts';

/** A first place more seldom than this is not told (design). */
const LEAST_SHARE = 0.005;

/** A row in HTML; how sure its place is stands between the two. */
export type RowHtml = readonly [before: string, after: string];

export function Sure({ fit }: { readonly fit: Fit }) {
  const { certainty, rank } = fit;
  const places = placesText(fit);
  if (places === '–') return null;
  const share = certainty?.firstShare ?? 0;
  const level = certainty?.order.level.find(({ from, to }) => rank !== null && from <= rank && rank <= to);
  return (
    <p class="sure">
      {`place ${places} in nine trials of ten`}
      {share >= LEAST_SHARE && `; first in ${percentText(share)}`}
      {level !== undefined && canBeChosen(fit) && `; places ${level.from} to ${level.to} are level`}
    </p>
  );
}

/** One answer of a fit, its verdict named where it is none that one hopes for. */
export function Reason({ names, verdict, reason }: ReturnType<typeof reasonsOf>[number]) {
  const question = names.map(questionText).join(', ');
  const named = verdict === 'fits' ? '' : ` (${VERDICT_TEXT[verdict]})`;
  return html`<p><strong>${question}${named}:</strong> ${wordsIn(reason)}</p>`;
}

/** The cell beside a fit's two rows: demand against what the group can do, and what is asked most. */
export function DrawnCell({ fit }: { readonly fit: Pick<Fit, 'judgements'> }) {
  const marks = marksOf(fit);
  const closest = closestText(marks);
  return html`
    <td class="drawn" rowspan="2">
      <div class="narrow">${ReachNames({ columns: marks.length })}</div>
      ${Reach({ marks })}
      ${closest !== null && html`<span class="closest">most asked: ${wordsIn(closest)}</span>`}
    </td>
  `;
}

function notesOf({ route }: Fit, stated: string | null, night: string | null, units: UnitSystem): string[] {
  return [
    ...(stated === null ? [] : [`noted with the route: ${withoutStop(stated)}`]),
    ...(night === null ? [] : [night]),
    ...route.notes.filter(({ code }) => code !== 'treeline-unknown').map((note) => noteClause(note, units)),
  ];
}

/** Texts of a row are escaped, so that none of them can hold this. */
const SURE_STANDS_HERE = '<!--sure-->';

/** Whom a list is made for, and what is asked of all its routes: that is told once, beside them. */
interface RowAsked {
  readonly cohort: StoredCohort;
  readonly date: string;
  readonly design: Design;
  readonly ofAll: ReadonlySet<string>;
}

function rowOf({ id, fit }: StoredFit, asked: RowAsked, { units, to }: Pick<PageFrame, 'units' | 'to'>) {
  const { route, rank, verdict } = fit;
  const { attributes, name } = route;
  const path = to(`/cohorts/${asked.cohort.id}/routes/${id}?date=${asked.date}`);
  const isOpen = canBeChosen(fit);
  const drive = driveOf(fit, asked.cohort.cohort, asked.design);
  const day = isOpen ? dayText(fit, drive?.departMs ?? null) : null;
  const { length, climb, top } = figuresOf(route, units);
  const reasons = reasonsOf(fit, units);
  const from = attributes.trailhead?.name ?? null;
  const toCheck = verdict === 'ruledOut' ? [] : questionsOf(fit, units);
  const noted = isOpen ? (attributes.notes ?? null) : null;
  const titled = (title: string, texts: readonly string[]) =>
    texts.length > 0 && html`<p><strong>${title}:</strong> ${wordsIn(texts.join('; '))}</p>`;
  const figure = (title: string, text: string) =>
    html`<td class="num"><span class="name">${title} </span>${wordsIn(text)}</td>`;
  return html`
    <tbody class="${verdict}">
      <tr>
        <td class="place">${rank ?? 0}</td>
        <th scope="row">
          <a href="${path}">${name}</a>
          ${from !== null && html`<span class="from">from ${from}</span>`}
        </th>
        <td>
          <span class="verdict">${VERDICT_TEXT[verdict]}</span> <span class="score">${isOpen ? `score ${fit.score.toFixed(2)}` : 'no score'}</span>
        </td>
        ${figure('length', length)}
        ${figure('climb', climb)}
        ${figure('top', top)}
        <td><span class="name">rock class </span>${attributes.rockClass ?? 'not stated'}</td>
        ${DrawnCell({ fit })}
      </tr>
      <tr class="why">
        <td></td>
        <td colspan="6">
          ${jsxTemplate([SURE_STANDS_HERE])}
          ${verdict !== 'fits' && reasons.slice(0, 1).map(Reason)}
          ${titled('would help', helpsOf(fit, units))}
          ${titled(
            'to check',
            toCheck.filter((text) => !asked.ofAll.has(text)),
          )}
          <details>
            <summary>Why<span class="unseen"> ${name}</span>${day !== null && ', and the day'}</summary>
            ${(verdict === 'fits' ? reasons : reasons.slice(1)).map(Reason)}
            ${day !== null && html`<p><strong>the day:</strong> ${wordsIn(day)}</p>`}
            ${isOpen && html`<p>${scoreText(fit, asked.design.weights)}</p>`}
            ${titled('note', notesOf(fit, noted, shortNightText(drive), units))}
            <p class="screen"><a href="${path}">${name}: all answers, map and plan</a></p>
          </details>
        </td>
      </tr>
    </tbody>
  `;
}

/** The rows of a page in HTML. They are most of it, and how sure their places are is known last: they are made meanwhile. */
export function rowsOf(
  fits: readonly StoredFit[],
  asked: Omit<RowAsked, 'ofAll'>,
  frame: Pick<PageFrame, 'units' | 'to'>,
): readonly RowHtml[] {
  const ofAll = askedOfAll(
    fits.map(({ fit }) => fit),
    frame.units,
  );
  return fits.map((one) => {
    const row = renderToString(rowOf(one, { ...asked, ofAll: new Set(ofAll) }, frame));
    const [before = '', after = ''] = row.split(SURE_STANDS_HERE);
    return [before, after];
  });
}
