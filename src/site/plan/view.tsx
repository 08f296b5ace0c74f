/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { PAGE_NAMES, type PageKey } from '../../document/plan-document.ts';
import { Words } from '../../markup/words.tsx';
import { FaultNote, Input, Select } from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';

export interface PlanPageView {
  readonly cohort: { readonly id: string; readonly name: string };
  readonly route: { readonly id: string; readonly name: string };
  readonly date: string;
  /** As the plan's first lines have it. */
  readonly inShort: readonly string[];
  readonly pages: readonly PageKey[];
  /** What was chosen; empty: nothing. */
  readonly start: string;
  readonly spareDate: string;
  readonly warm: string;
  readonly fault: string | null;
  /** Path and query of the plan as it is served to programs and browsers. */
  readonly planPath: string;
  readonly fileName: string;
  readonly workerUrl: string;
}

/** Who reads which page of the plan. */
const FOR: Readonly<Record<PageKey, string>> = {
  leaders: 'the day with its times, turn-back times, water, food and kit',
  routeCard: 'leg by leg, for the navigator',
  morning: 'to decide at the trailhead',
  emergency: 'one sheet, to be carried by every leader',
  participants: 'one sheet, for those who go and their families',
  office: 'for whoever waits for the group to be back',
  training: 'the steps that lead to the day',
};

function Choices({ view, frame }: { readonly view: PlanPageView; readonly frame: PageFrame }): VNode {
  const { cohort, route, date, start, spareDate, warm, fault } = view;
  return (
    <form
      class="box screen"
      method="get"
      action={frame.to(`/cohorts/${cohort.id}/routes/${route.id}/plan`)}
      aria-label="What the plan is made for"
    >
      <FaultNote
        fault={fault === null ? null : { field: null, text: fault }}
        said="The plan is not made as asked."
      />
      <div class="fields">
        <Input id="date" label="Date" type="date" required value={date} />
        <Input
          id="start"
          label="Start of your own"
          type="time"
          value={start}
          hint="left empty: the start worked out"
        />
        <Input
          id="spareDate"
          label="Spare date"
          type="date"
          value={spareDate}
          hint="left empty: one is suggested"
        />
        <Select
          id="warm"
          label="Forecast"
          value={warm}
          options={[
            ['', 'not known yet'],
            ['true', 'a warm day'],
            ['false', 'not warm'],
          ]}
        />
      </div>
      <div class="row">
        <button type="submit">Make the plan again</button>
      </div>
    </form>
  );
}

/** The trip plan of a cohort's day: what it is made for, its pages, and how to take it along. */
export function planPage(view: PlanPageView, frame: PageFrame): string {
  const { cohort, route, date, inShort, pages, planPath, fileName, workerUrl } = view;
  const plan = frame.to(planPath);
  const title = `${route.name}, ${date}`;
  return pageHtml({
    title: `Trip plan · ${title}`,
    notDone: view.fault === null ? null : 'Not made as asked',
    frame,
    section: 'cohorts',
    way: [
      { name: 'Cohorts', path: '/' },
      { name: cohort.name, path: `/cohorts/${cohort.id}?date=${date}` },
      { name: route.name, path: `/cohorts/${cohort.id}/routes/${route.id}?date=${date}` },
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
        {inShort.map((line) => (
          <p>
            <Words text={line} />
          </p>
        ))}
        <h2>Its pages</h2>
        <ul class="sheets">
          {pages.map((key) => (
            <li>
              <a href={`${plan}#${key}`}>{PAGE_NAMES[key]}</a> {FOR[key]}
            </li>
          ))}
        </ul>
        <h2 class="screen">Make it again</h2>
        <Choices view={view} frame={frame} />
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
