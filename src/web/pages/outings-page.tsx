/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import {
  FaultNote,
  type FormFault,
  type FormValues,
  Input,
  notStored,
  Select,
  TextArea,
  Tick,
} from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';
import { Words } from '../words.tsx';

interface OfCohort {
  readonly id: string;
  readonly name: string;
}

export interface OutingRow {
  readonly id: string;
  readonly date: string;
  readonly length: string;
  readonly climb: string;
  readonly walking: string;
  readonly rockClass: string;
  readonly who: string;
  readonly source: string;
  readonly notes: readonly string[];
}

export interface OutingsView {
  readonly cohort: OfCohort;
  /** Latest first. */
  readonly rows: readonly OutingRow[];
  /** The id of the day that was stored just now. */
  readonly isNew: string | null;
  /** Whether another day of that date looks the same. */
  readonly isTwice: boolean;
}

const wayTo = ({ id, name }: OfCohort) => [
  { name: 'Cohorts', path: '/' },
  { name, path: `/cohorts/${id}` },
];

function OutingTable({ view, frame }: { readonly view: OutingsView; readonly frame: PageFrame }): VNode {
  const { cohort, rows } = view;
  return (
    <table class="cards">
      <caption class="unseen">Days walked, the latest first</caption>
      <thead>
        <tr>
          <th scope="col">Day</th>
          <th scope="col" class="num">
            Length
          </th>
          <th scope="col" class="num">
            Climb
          </th>
          <th scope="col" class="num">
            Walking
          </th>
          <th scope="col">Class</th>
          <th scope="col">Who</th>
          <th scope="col">From</th>
          <td class="screen" />
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr>
            <th scope="row">
              <Words text={row.date} />
              {row.id === view.isNew && ' (new)'}
            </th>
            <td class="num">
              <span class="name">length </span>
              <Words text={row.length} />
            </td>
            <td class="num">
              <span class="name">climb </span>
              <Words text={row.climb} />
            </td>
            <td class="num">
              <span class="name">walking </span>
              <Words text={row.walking} />
            </td>
            <td>
              <span class="name">class </span>
              {row.rockClass}
            </td>
            <td>
              <span class="name">who </span>
              {row.who}
            </td>
            <td>
              <span class="name">from </span>
              {row.source}
              {row.notes.length > 0 && <span class="hint"> {row.notes.join('; ')}</span>}
            </td>
            <td class="screen">
              <details>
                <summary>
                  erase …
                  <span class="unseen">
                    {' '}
                    the day {row.date}, {row.length}
                  </span>
                </summary>
                <form method="post" action={frame.to(`/cohorts/${cohort.id}/outings/${row.id}/delete`)}>
                  <button type="submit">
                    Erase {row.date}
                    <span class="unseen">, {row.length}</span>
                  </button>
                </form>
              </details>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The days that a cohort has walked. */
export function outingsPage(view: OutingsView, frame: PageFrame): string {
  const { cohort, rows, isNew } = view;
  return pageHtml({
    title: `Days walked by ${cohort.name}`,
    frame,
    section: 'cohorts',
    way: wayTo(cohort),
    children: (
      <>
        {isNew !== null && (
          <p class="box notice" role="status">
            The day is stored. <a href={frame.to(`/cohorts/${cohort.id}`)}>To the shortlist</a>
            {view.isTwice &&
              ' Another day of this date has the same length and climb: if it is the same day, erase one. Counted twice it makes the pace look surer than it is.'}
          </p>
        )}
        <p class="row screen">
          <a class="button main" href={frame.to(`/cohorts/${cohort.id}/outings/new`)}>
            Record a day
          </a>
        </p>
        {rows.length === 0 ? (
          <p class="lead">
            Nothing is recorded yet. A recording, or length, climb and time by hand, says what this group has
            shown; without one no route can be said to fit.
          </p>
        ) : (
          <OutingTable view={view} frame={frame} />
        )}
      </>
    ),
  });
}

export interface OutingFormView {
  readonly cohort: OfCohort;
  readonly members: readonly string[];
  readonly were: readonly string[];
  readonly values: FormValues;
  /** Whether the fault asks to confirm that the figures are right all the same. */
  readonly asksToConfirm: boolean;
  readonly fault: FormFault | null;
  /** Routes that the day may have been planned on. */
  readonly routes: readonly { readonly id: string; readonly name: string }[];
}

function Told({ view, prefix }: { readonly view: OutingFormView; readonly prefix: string }): VNode {
  const { members, were, values, fault } = view;
  return (
    <>
      {members.length > 0 && (
        <fieldset class="bare">
          <legend>Who was there</legend>
          <p class="hint">Nobody ticked: it counts for everyone.</p>
          <div class="ticks-row">
            {members.map((label) => (
              <Tick name="members" value={label} checked={were.includes(label)}>
                {label}
              </Tick>
            ))}
          </div>
        </fieldset>
      )}
      <details>
        <summary>
          Why it turned back, what nearly went wrong
          {prefix !== '' && <span class="unseen"> on the recorded day</span>}
        </summary>
        <div class="fields">
          <TextArea
            id={`${prefix}turnedBecause`}
            label="Why the group turned back, if it did"
            hint="no names, no labels"
            value={values[`${prefix}turnedBecause`] ?? ''}
            maxLength={500}
            fault={fault}
          />
          <TextArea
            id={`${prefix}nearMisses`}
            label="What nearly went wrong, a line each"
            hint="no names, no labels"
            value={values[`${prefix}nearMisses`] ?? ''}
            maxLength={4000}
            fault={fault}
          />
        </div>
      </details>
    </>
  );
}

/** A day to record: by hand, as on a phone after the walk, or by file. */
export function outingFormPage(view: OutingFormView, frame: PageFrame): string {
  const { cohort, values, fault, asksToConfirm, routes } = view;
  const of = (field: string): string => values[field] ?? '';
  const isUs = frame.units === 'us';
  const path = frame.to(`/cohorts/${cohort.id}/outings`);
  const rockClass = { label: 'Rock class of the hardest move', hint: 'such as 1 or 2+' };
  return pageHtml({
    title: `Record a day of ${cohort.name}`,
    notDone: notStored(fault),
    frame,
    section: 'cohorts',
    way: [...wayTo(cohort), { name: 'Days walked', path: `/cohorts/${cohort.id}/outings` }],
    children: (
      <>
        <FaultNote fault={fault} />
        <form method="post" action={path}>
          <fieldset>
            <legend>By hand</legend>
            <div class="fields">
              <Input id="date" label="Day" type="date" value={of('date')} required fault={fault} />
              <Input
                id="distance"
                label={`Length, ${isUs ? 'miles' : 'km'}`}
                type="number"
                min={0}
                step="any"
                value={of('distance')}
                required
                fault={fault}
              />
              <Input
                id="gain"
                label={`Climb, ${isUs ? 'feet' : 'metres'}`}
                hint="all of the ways up together"
                type="number"
                min={0}
                step="any"
                value={of('gain')}
                required
                fault={fault}
              />
              <Input
                id="hours"
                label="Walking time: hours"
                hint="stops not counted"
                type="number"
                min={0}
                step="any"
                value={of('hours')}
                fault={fault}
              />
              <Input
                id="minutes"
                label="Walking time: minutes"
                type="number"
                min={0}
                step="any"
                value={of('minutes')}
                fault={fault}
              />
              <Input
                id="top"
                label={`Highest point, ${isUs ? 'feet' : 'metres'}`}
                type="number"
                step="any"
                value={of('top')}
                fault={fault}
              />
              <Input id="rockClass" {...rockClass} value={of('rockClass')} fault={fault} />
            </div>
            <Told view={view} prefix="" />
            {asksToConfirm && (
              <Tick name="confirmed" value="true" checked={false}>
                These figures are right all the same
              </Tick>
            )}
            <p class="row">
              <button type="submit" class="main">
                Store the day
              </button>
            </p>
          </fieldset>
        </form>
        <form method="post" action={`${path}/file`} encType="multipart/form-data">
          <fieldset>
            <legend>By file</legend>
            <p class="hint">
              A GPX recording with its clock. It is measured and dropped; its ends near the meeting place are
              cut.
            </p>
            <div class="fields">
              <Input id="track" label="GPX file" type="file" accept=".gpx" required fault={fault} />
              <Input
                id="trackDate"
                label="Day of the recording"
                type="date"
                value={of('trackDate')}
                required
                fault={fault}
              />
              <Input id="trackRockClass" {...rockClass} value={of('trackRockClass')} fault={fault} />
              <Select
                id="routeId"
                label="Planned as"
                hint="then the day is set beside its plan"
                value={of('routeId')}
                fault={fault}
                options={[['', 'no plan'], ...routes.map(({ id, name }) => [id, name] as const)]}
              />
            </div>
            <Told view={view} prefix="track-" />
            <p class="row">
              <button type="submit" class="main">
                Send the recording
              </button>
            </p>
          </fieldset>
        </form>
      </>
    ),
  });
}
