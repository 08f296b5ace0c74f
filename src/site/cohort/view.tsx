/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { CRITERION_NAMES } from '../../rank/criteria/index.ts';
import { VERDICTS } from '../../rank/verdict.ts';
import { questionText } from '../../text/criteria/index.ts';
import { HOW_TO_READ } from '../../text/shortlist-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { plural } from '../../text/words.ts';
import {
  CLEARANCES,
  FaultNote,
  type FormFault,
  type FormValues,
  fieldsAt,
  Input,
  Select,
  Tick,
} from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { Later, pageAround } from '../page-shell.tsx';
import { ReachShapes } from '../reach.tsx';
import type { ShortlistAsked, SortKey } from './shortlist.ts';

/** What may be asked to be otherwise. */
interface WhatIfView {
  readonly values: FormValues;
  /** Labels that would stay behind, of those who go. */
  readonly without: readonly string[];
  readonly going: readonly string[];
  /** The vehicles there are, in words. */
  readonly vehicles: string;
  readonly rows: number;
  readonly fault: FormFault | null;
}

export interface CohortPageView {
  readonly name: string;
  readonly people: string;
  readonly outings: number;
  /** What is wrong with what was asked; the list is then of the usual date. */
  readonly fault: string | null;
  readonly hasPassed: boolean;
  readonly whatIf: WhatIfView;
  readonly cohortId: string;
  readonly asked: ShortlistAsked;
  /** How many routes are stored. */
  readonly stored: number;
}

const SORT_TEXT: readonly (readonly [SortKey, string])[] = [
  ['place', 'place'],
  ['name', 'name'],
  ['length', 'length'],
  ['climb', 'climb'],
  ['top', 'top'],
  ...CRITERION_NAMES.map((name) => [name, `most room: ${questionText(name)}`] as const),
];

function Asked({ view, frame }: { readonly view: CohortPageView; readonly frame: PageFrame }): VNode {
  const { asked, cohortId, fault, hasPassed } = view;
  return (
    <form
      class="asked"
      method="get"
      action={frame.to(`/cohorts/${cohortId}`)}
      data-fragment={frame.to(`/cohorts/${cohortId}/shortlist`)}
      aria-label="What is asked"
    >
      <div class="fields">
        <div class="field">
          <label for="date">Date</label>
          <input
            type="date"
            id="date"
            name="date"
            required
            value={asked.date}
            aria-invalid={fault !== null ? 'true' : undefined}
            aria-describedby={fault !== null ? 'date-fault' : hasPassed ? 'date-hint' : undefined}
          />
          {fault !== null && (
            <p class="fault" id="date-fault">
              {fault}
            </p>
          )}
          {fault === null && hasPassed && (
            <p class="hint" id="date-hint">
              this day has passed
            </p>
          )}
        </div>
        <div class="field">
          <label for="q">Find a name or trailhead</label>
          <input type="search" id="q" name="q" value={asked.text} maxLength={100} />
        </div>
        <div class="field">
          <label for="sort">Order by</label>
          <select id="sort" name="sort">
            {SORT_TEXT.map(([key, text]) => (
              <option value={key} selected={key === asked.sort && !asked.descending}>
                {text}
              </option>
            ))}
            {asked.descending && (
              <option value={`-${asked.sort}`} selected>
                {`${SORT_TEXT.find(([key]) => key === asked.sort)?.[1]}, the other way round`}
              </option>
            )}
          </select>
        </div>
      </div>
      <WhatIf view={view.whatIf} frame={frame} />
      <div class="row">
        <fieldset class="bare">
          <legend>Only</legend>
          <div class="ticks-row">
            {VERDICTS.map((verdict) => (
              <label class="tick">
                <input
                  type="checkbox"
                  name="verdict"
                  value={verdict}
                  checked={asked.verdicts.includes(verdict)}
                />
                {VERDICT_TEXT[verdict]}
              </label>
            ))}
          </div>
        </fieldset>
        <button type="submit" class="main">
          Show
        </button>
      </div>
    </form>
  );
}

/** What the fields are called, by their names, in the order of the page. */
const whatIfLabels = (rows: number, isUs: boolean): Readonly<Record<string, string>> => ({
  start: 'A start at',
  deadline: 'Below treeline by',
  ...Object.fromEntries(
    Array.from({ length: rows }, (_, i) => i + 1).flatMap((n) => [
      [`seats${n}`, n === 1 ? 'Other vehicles: seats' : `Vehicle ${n}: seats`],
      [`clearance${n}`, `Vehicle ${n}: kind`],
    ]),
  ),
  distance: `Length, ${isUs ? 'miles' : 'km'}`,
  gain: `Climb, ${isUs ? 'feet' : 'metres'}`,
  hours: 'Hours',
  rockClass: 'Rock class',
  walked: 'Day',
  without: 'Without',
});

function WhatIf({ view, frame }: { readonly view: WhatIfView; readonly frame: PageFrame }): VNode {
  const { values, without, going, vehicles, rows, fault } = view;
  const labels = whatIfLabels(rows, frame.units === 'us');
  const at = fieldsAt(values, labels, fault);
  return (
    <details class="what-if" open={Object.keys(values).length > 0}>
      <summary>What if …</summary>
      <FaultNote fault={fault} labels={labels} />
      <p class="hint">What is left empty stays as it is. Nothing of it is stored.</p>
      <div class="fields">
        <Input {...at('start')} type="time" />
        <Input {...at('deadline')} type="time" />
        {Array.from({ length: rows }, (_, i) => i + 1).map((n) => (
          <>
            <Input
              {...at(`seats${n}`)}
              {...(n === 1 ? { hint: vehicles === '' ? 'none stated' : `instead of ${vehicles}` } : {})}
              type="number"
              min={1}
              step={1}
            />
            <Select {...at(`clearance${n}`)} options={CLEARANCES} />
          </>
        ))}
      </div>
      <fieldset class="bare walked">
        <legend>As if they had also walked</legend>
        <div class="fields">
          <Input {...at('distance')} type="number" min={0} step="any" />
          <Input {...at('gain')} type="number" min={0} step="any" />
          <Input {...at('hours')} type="number" min={0} step="any" />
          <Input {...at('rockClass')} />
          <Input {...at('walked')} hint="left empty: a week before" type="date" />
        </div>
      </fieldset>
      {going.length > 1 && (
        <fieldset class="bare">
          <legend>Without</legend>
          <div class="ticks-row">
            {going.map((label) => (
              <Tick name="without" value={label} checked={without.includes(label)}>
                {label}
              </Tick>
            ))}
          </div>
        </fieldset>
      )}
    </details>
  );
}

function Legend(): VNode {
  return (
    <details class="screen">
      <summary>How to read the list and the drawing</summary>
      <p>{HOW_TO_READ}</p>
      <ul>
        <li>
          Each column is one question. Its height is what the route asks, as a share of what the group can do;
          the dashed line is all that it can do.
        </li>
        <li>
          Hatched: within reach. Solid, above the line: beyond it. An arrow at the top: more than half beyond.
        </li>
        <li>A ring at the foot: met, with nothing to measure. A cross: not met. Dots: not known.</li>
        <li>
          Empty: how the day compares with the one wanted (comfortable, or a challenge); it rules nothing out.
        </li>
      </ul>
    </details>
  );
}

/** A cohort on a date: what stands before the routes in order of fit, and what after. */
export function cohortPage(view: CohortPageView, frame: PageFrame): readonly [before: string, after: string] {
  const { name, people, outings, cohortId, asked, stored } = view;
  return pageAround({
    title: name,
    notDone: view.fault === null && view.whatIf.fault === null ? null : 'Not shown as asked',
    frame,
    section: 'cohorts',
    way: [{ name: 'Cohorts', path: '/' }],
    scripts: ['shortlist'],
    children: (
      <>
        <p class="people">
          {people}.{' '}
          <span class="screen">
            <a href={frame.to(`/cohorts/${cohortId}/outings`)}>{plural(outings, 'day')} walked</a> ·{' '}
            <a href={frame.to(`/cohorts/${cohortId}/outings/new`)}>record a day</a> ·{' '}
            <a href={frame.to(`/cohorts/${cohortId}/edit`)}>change the cohort</a> ·{' '}
            <a href={frame.to(`/cohorts/${cohortId}/training?date=${asked.date}`)}>training</a>
          </span>
        </p>
        {outings === 0 && (
          <div class="box notice">
            <p>
              <strong>This group has shown nothing yet</strong>, so no route can be said to fit.{' '}
              <a href={frame.to(`/cohorts/${cohortId}/outings/new`)}>Record a day that it has walked</a>: a
              recording, or length, climb and time by hand.
            </p>
          </div>
        )}
        {stored === 0 ? (
          <div class="box notice">
            <p>
              There are no routes yet. <a href={frame.to('/routes')}>Add some</a>: GPX or GeoJSON files.
            </p>
          </div>
        ) : (
          <>
            <h2 class="unseen">What is asked</h2>
            <Asked view={view} frame={frame} />
            <Legend />
            <ReachShapes names={CRITERION_NAMES} />
            <p id="said" class="unseen" role="status" />
            <h2 class="unseen" id="shortlist-title">
              Shortlist
            </h2>
            <section id="shortlist" aria-labelledby="shortlist-title" tabIndex={-1}>
              <Later />
            </section>
          </>
        )}
      </>
    ),
  });
}

export const COHORT_STYLE = `
.asked{border:1px solid var(--hair);padding:.8rem 1rem;margin:.8rem 0}
.asked .bare{border:0;padding:0;margin:.5rem 0 0;flex:1 1 20rem}
.asked .bare:not(.walked) legend{font-size:1rem;float:left;padding:.6rem .8rem 0 0;margin:0}
main .people{max-width:none}
.what-if{clear:both}
.asked .row{margin:0;align-items:flex-end}
`;
