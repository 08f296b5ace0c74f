/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { Words } from '../../markup/words.tsx';
import type { UnitSystem } from '../../units.ts';
import {
  FaultNote,
  type FieldAt,
  type FormFault,
  type FormValues,
  faultAt,
  fieldsAt,
  Input,
  notStored,
  Select,
  TextArea,
  Tick,
} from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';

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

/** What the fields are called, by their names. */
function outingLabels(units: UnitSystem): Readonly<Record<string, string>> {
  const isUs = units === 'us';
  const rockClass = 'Rock class of the hardest move';
  const turnedBecause = 'Why the group turned back, if it did';
  const nearMisses = 'What nearly went wrong, a line each';
  return {
    date: 'Day',
    distance: `Length, ${isUs ? 'miles' : 'km'}`,
    gain: `Climb, ${isUs ? 'feet' : 'metres'}`,
    hours: 'Walking time: hours',
    minutes: 'Walking time: minutes',
    top: `Highest point, ${isUs ? 'feet' : 'metres'}`,
    rockClass,
    members: 'Who was there',
    turnedBecause,
    nearMisses,
    track: 'GPX file',
    trackDate: 'Day of the recording',
    trackRockClass: rockClass,
    routeId: 'Planned as',
    'track-turnedBecause': turnedBecause,
    'track-nearMisses': nearMisses,
  };
}

function Told({
  view,
  at,
  prefix,
}: {
  readonly view: OutingFormView;
  readonly at: (id: string) => FieldAt;
  readonly prefix: string;
}): VNode {
  const { members, were, fault } = view;
  const texts = [`${prefix}turnedBecause`, `${prefix}nearMisses`] as const;
  return (
    <>
      {members.length > 0 && (
        <fieldset class="bare" id={`${prefix}members`}>
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
      <details open={texts.some((field) => faultAt(fault, field) !== undefined)}>
        <summary>
          Why it turned back, what nearly went wrong
          {prefix !== '' && <span class="unseen"> on the recorded day</span>}
        </summary>
        <div class="fields">
          <TextArea {...at(texts[0])} hint="no names, no labels" maxLength={500} />
          <TextArea {...at(texts[1])} hint="no names, no labels" maxLength={4000} />
        </div>
      </details>
    </>
  );
}

/** A day to record: by hand, as on a phone after the walk, or by file. */
export function outingFormPage(view: OutingFormView, frame: PageFrame): string {
  const { cohort, values, fault, asksToConfirm, routes } = view;
  const labels = outingLabels(frame.units);
  const at = fieldsAt(values, labels, fault);
  const path = frame.to(`/cohorts/${cohort.id}/outings`);
  const classHint = 'such as 1 or 2+';
  return pageHtml({
    title: `Record a day of ${cohort.name}`,
    notDone: notStored(fault),
    frame,
    section: 'cohorts',
    way: [...wayTo(cohort), { name: 'Days walked', path: `/cohorts/${cohort.id}/outings` }],
    children: (
      <>
        <FaultNote fault={fault} labels={labels} />
        <form method="post" action={path}>
          <fieldset>
            <legend>By hand</legend>
            <div class="fields">
              <Input {...at('date')} type="date" required />
              <Input {...at('distance')} type="number" min={0} step="any" required />
              <Input
                {...at('gain')}
                hint="all of the ways up together"
                type="number"
                min={0}
                step="any"
                required
              />
              <Input {...at('hours')} hint="stops not counted" type="number" min={0} step="any" />
              <Input {...at('minutes')} type="number" min={0} step="any" />
              <Input {...at('top')} type="number" step="any" />
              <Input {...at('rockClass')} hint={classHint} />
            </div>
            <Told view={view} at={at} prefix="" />
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
              <Input {...at('track')} type="file" accept=".gpx" required />
              <Input {...at('trackDate')} type="date" required />
              <Input {...at('trackRockClass')} hint={classHint} />
              <Select
                {...at('routeId')}
                hint="then the day is set beside its plan"
                options={[['', 'no plan'], ...routes.map(({ id, name }) => [id, name] as const)]}
              />
            </div>
            <Told view={view} at={at} prefix="track-" />
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
