import { PAGE_NAMES, type PageKey, type PlanDocument } from '../../document/plan-document.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import type { StoredRoute } from '../../storage/routes.ts';
import { FaultNote, Fields } from '../field.tsx';
import { choices, DATE, type FormField, TIME, valuesOf } from '../form-table.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { Paragraphs } from '../parts.tsx';

export interface PlanPageView {
  readonly cohort: StoredCohort;
  readonly route: StoredRoute;
  readonly date: string;
  readonly document: PlanDocument;
  /** What was chosen, right or wrong, and what is wrong with it. */
  readonly query: URLSearchParams;
  readonly fault: string | null;
  /** Path and query of the plan as it is served to programs and browsers. */
  readonly planPath: string;
  readonly fileName: string;
  readonly workerUrl: string;
}

const FOR: Readonly<Record<PageKey, string>> = {
  leaders: 'the day with its times, turn-back times, water, food and kit',
  routeCard: 'leg by leg, for the navigator',
  morning: 'to decide at the trailhead',
  emergency: 'one sheet, to be carried by every leader',
  participants: 'one sheet, for those who go and their families',
  office: 'for whoever waits for the group to be back',
  training: 'the steps that lead to the day',
};

const CHOICES: readonly FormField[] = [
  { id: 'date', label: 'Date', input: { ...DATE, required: true } },
  { id: 'start', label: 'Start of your own', hint: 'left empty: the start worked out', input: TIME },
  { id: 'spareDate', label: 'Spare date', hint: 'left empty: one is suggested', input: DATE },
  {
    id: 'warm',
    label: 'Forecast',
    options: choices({ true: 'a warm day', false: 'not warm' }, 'not known yet'),
  },
];

function Choices({ view, path }: { readonly view: PlanPageView; readonly path: string }) {
  const { date, query, fault } = view;
  return (
    <form class="box screen" method="get" action={path} aria-label="What the plan is made for">
      <FaultNote
        fault={fault === null ? null : { field: null, text: fault }}
        said="The plan is not made as asked."
      />
      <Fields fields={CHOICES} values={{ ...valuesOf(query), date }} fault={null} />
      <div class="row">
        <button type="submit">Make the plan again</button>
      </div>
    </form>
  );
}

/** The trip plan of a cohort's day: what it is made for, its pages, and how to take it along. */
export function planPage(view: PlanPageView, frame: PageFrame): string {
  const { date, document, planPath, fileName, workerUrl } = view;
  const { name } = view.route.route;
  const plan = frame.to(planPath);
  const title = `${name}, ${date}`;
  const cohortPath = `/cohorts/${view.cohort.id}`;
  const path = `${cohortPath}/routes/${view.route.id}`;
  return pageHtml({
    title: `Trip plan · ${title}`,
    notDone: view.fault === null ? null : 'Not made as asked',
    frame,
    section: 'cohorts',
    way: [
      [view.cohort.cohort.name, `${cohortPath}?date=${date}`],
      [name, `${path}?date=${date}`],
    ],
    scripts: ['keep'],
    children: (
      <>
        <p class="row screen">
          <a class="button main" href={plan}>
            Open to read or print
          </a>
          <a class="button" href={`${plan}#emergency`}>
            Emergency page
          </a>
          <a class="button" href={plan} download={`${fileName}.html`} type="text/html">
            Save as one file
          </a>
        </p>
        <Paragraphs texts={(document.pages[0]?.page.sections[0]?.lines ?? []).map(({ text }) => text)} />
        <h2>Its pages</h2>
        <ul class="sheets">
          {document.pages.map(({ key }) => (
            <li>
              <a href={`${plan}#${key}`}>{PAGE_NAMES[key]}</a> {FOR[key]}
            </li>
          ))}
        </ul>
        <h2 class="screen">Make it again</h2>
        <Choices view={view} path={frame.to(`${path}/plan`)} />
        <section class="screen" data-worker={workerUrl} data-plan={plan} data-title={title}>
          <h2>Without a signal</h2>
          <p>
            The saved file and a print need nothing else. This browser also keeps the last three plans that
            were opened here, with the time they are from;{' '}
            <a class="reach" href={frame.to('/kept')}>
              see and forget what is kept
            </a>
            .
          </p>
          <p id="kept-said" role="status" />
        </section>
      </>
    ),
  });
}

/** The plans that this device keeps. Made in the browser: the service does not know them. */
export function keptPage(workerUrl: string, frame: PageFrame): string {
  return pageHtml({
    title: 'Kept on this device',
    frame,
    section: null,
    scripts: ['keep'],
    children: (
      <div data-worker={workerUrl}>
        <p>
          Plans that were opened on this device can be read here when the service cannot be reached. What has
          changed since their time is not in them.
        </p>
        <p id="kept-said" role="status" />
        <ul id="kept" />
        <noscript>
          <p>This list needs scripts. A plan saved as a file, or printed, does not.</p>
        </noscript>
        <p class="row">
          <button type="button" id="forget" hidden>
            Forget all plans kept here
          </button>
        </p>
        <p class="quiet">
          Clearing the data of this site in the browser’s settings forgets them too. A device lent to others
          should keep none.
        </p>
      </div>
    ),
  });
}

export const PLAN_PAGE_STYLE = `
.sheets{list-style:none;padding:0;margin:.4rem 0}
.sheets li{padding:.1rem 0;color:var(--faint)}
.sheets a,#kept a{display:inline-flex;align-items:center;min-height:2.75rem;padding-right:.5rem;color:var(--ink);font-weight:600}
`;
