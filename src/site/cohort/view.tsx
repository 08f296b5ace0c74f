import { CRITERION_NAMES } from '../../rank/criteria/index.ts';
import { VERDICTS } from '../../rank/verdict.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import { questionText } from '../../text/criteria/index.ts';
import { peopleText } from '../../text/people-words.ts';
import { HOW_TO_READ } from '../../text/shortlist-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { plural } from '../../text/words.ts';
import { FaultNote, Field, Fields, type FormFault, labelOptions, Ticks } from '../field.tsx';
import type { FormField } from '../form-table.ts';
import type { PageFrame } from '../page.ts';
import { Later, pageAround } from '../page-shell.tsx';
import { WordList } from '../parts.tsx';
import { ReachShapes } from '../reach.tsx';
import { type ShortlistAsked, SORT_KEYS } from './shortlist.ts';
import { whatIfForm } from './what-if-form.ts';

export interface CohortPageView {
  readonly stored: StoredCohort;
  readonly outings: number;
  readonly asked: ShortlistAsked;
  /** What is asked to be otherwise than it is stored, right or wrong. */
  readonly changes: ShortlistAsked['changes'];
  /** What is wrong with the date that was asked for; the list is then of the usual one. */
  readonly dateFault: string | null;
  /** What is wrong with the changes; the list is then without them. */
  readonly whatIfFault: FormFault | null;
  readonly routes: number;
}

interface PageProps {
  readonly view: CohortPageView;
  readonly frame: PageFrame;
}

const SORT_TEXT: ReadonlyMap<string, string> = new Map([
  ...SORT_KEYS.map((key) => [key, key] as const),
  ...CRITERION_NAMES.map((name) => [name, `most room: ${questionText(name)}`] as const),
]);

function Asked({ view, frame }: PageProps) {
  const { asked, dateFault: fault } = view;
  const path = frame.to(`/cohorts/${view.stored.id}`);
  const hasPassed = asked.date < frame.today;
  const sort = `${asked.descending ? '-' : ''}${asked.sort}`;
  const otherWay = [sort, `${SORT_TEXT.get(asked.sort)}, the other way round`] as const;
  const search = { type: 'search', autoComplete: 'on', maxLength: 100 } as const;
  const fields: readonly FormField[] = [
    { id: 'q', label: 'Find a name or trailhead', input: search },
    { id: 'sort', label: 'Order by', options: [...SORT_TEXT, ...(asked.descending ? [otherWay] : [])] },
  ];
  const values = { q: asked.text, sort };
  return (
    <form
      class="asked"
      method="get"
      action={path}
      data-fragment={`${path}/shortlist`}
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
        {fields.map((field) => (
          <Field field={field} values={values} fault={null} />
        ))}
      </div>
      <WhatIf view={view} frame={frame} />
      <div class="row">
        <Ticks
          legend="Only"
          name="verdict"
          options={VERDICTS.map((verdict) => [verdict, VERDICT_TEXT[verdict]])}
          ticked={asked.verdicts}
        />
        <button type="submit" class="main">
          Show
        </button>
      </div>
    </form>
  );
}

function WhatIf({ view, frame }: PageProps) {
  const { changes, whatIfFault: fault } = view;
  const { cohort } = view.stored;
  const going = cohort.going ?? cohort.members ?? [];
  const vehicles = (cohort.vehicles ?? []).map(({ seats }) => plural(seats, 'seat')).join(', ');
  const { before, walked, table } = whatIfForm(frame.units, vehicles);
  const state = { values: Object.fromEntries(changes), fault };
  return (
    <details class="what-if" open={changes.length > 0}>
      <summary>What if …</summary>
      <FaultNote fault={fault} table={table} />
      <p class="hint">What is left empty stays as it is. Nothing of it is stored.</p>
      <Fields fields={before} {...state} />
      <fieldset class="bare walked">
        <legend>As if they had also walked</legend>
        <Fields fields={walked} {...state} />
      </fieldset>
      {going.length > 1 && (
        <Ticks
          legend="Without"
          name="without"
          options={labelOptions(going)}
          ticked={changes.filter(([name]) => name === 'without').map(([, label]) => label)}
        />
      )}
    </details>
  );
}

const HOW_IT_IS_DRAWN = [
  'Each column is one question. Its height is what the route asks, as a share of what the group can do; the dashed line is all that it can do.',
  'Hatched: within reach. Solid, above the line: beyond it. An arrow at the top: more than half beyond.',
  'A ring at the foot: met, with nothing to measure. A cross: not met. Dots: not known.',
  'Empty: how the day compares with the one wanted (comfortable, or a challenge); it rules nothing out.',
];

function Legend() {
  return (
    <details class="screen">
      <summary>How to read the list and the drawing</summary>
      <p>{HOW_TO_READ}</p>
      <WordList texts={HOW_IT_IS_DRAWN} />
    </details>
  );
}

/** A cohort on a date: what stands before the routes in order of fit, and what after. */
export function cohortPage(view: CohortPageView, frame: PageFrame): readonly [before: string, after: string] {
  const { stored, outings, asked, dateFault, whatIfFault, routes } = view;
  const path = `/cohorts/${stored.id}`;
  return pageAround({
    title: stored.cohort.name,
    notDone: dateFault === null && whatIfFault === null ? null : 'Not shown as asked',
    frame,
    section: 'cohorts',
    way: [],
    scripts: ['shortlist'],
    children: (
      <>
        <p class="people">
          {peopleText(stored.cohort)}.{' '}
          <span class="screen">
            <a href={frame.to(`${path}/outings`)}>{plural(outings, 'day')} walked</a> ·{' '}
            <a href={frame.to(`${path}/outings/new`)}>record a day</a> ·{' '}
            <a href={frame.to(`${path}/edit`)}>change the cohort</a> ·{' '}
            <a href={frame.to(`${path}/training?date=${asked.date}`)}>training</a>
          </span>
        </p>
        {outings === 0 && (
          <div class="box notice">
            <p>
              <strong>This group has shown nothing yet</strong>, so no route can be said to fit.{' '}
              <a href={frame.to(`${path}/outings/new`)}>Record a day that it has walked</a>: a recording, or
              length, climb and time by hand.
            </p>
          </div>
        )}
        {routes === 0 ? (
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
