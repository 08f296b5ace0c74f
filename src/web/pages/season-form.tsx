/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { plural } from '../../fit/words.ts';
import { CLEARANCES, FaultNote, Input, Select, Tick } from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';
import type { SeasonFormCohort, SeasonFormView } from './season-view.ts';

interface FormProps {
  readonly view: SeasonFormView;
}

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];

const upTo = (count: number): readonly number[] => Array.from({ length: count }, (_, i) => i + 1);

function Cohort({ cohort, view }: FormProps & { readonly cohort: SeasonFormCohort }): VNode {
  const { id, name, people, isChosen, notOn, ledBy, hasOwnVehicles } = cohort;
  const { fault } = view;
  const isOpen = notOn !== '' || ledBy !== '' || hasOwnVehicles || fault?.field?.endsWith(`-${id}`) === true;
  return (
    <li>
      <Tick name="cohort" value={id} checked={isChosen}>
        <strong>{name}</strong> <span class="quiet">{people}</span>
      </Tick>
      <details open={isOpen}>
        <summary>
          Days off, leaders, vehicles<span class="unseen"> of {name}</span>
        </summary>
        <fieldset class="bare">
          <legend class="unseen">{name}</legend>
          <div class="fields">
            <Input id={`notOn-${id}`} label="Cannot go on" value={notOn} maxLength={1100} fault={fault} />
            <Input id={`ledBy-${id}`} label="Labels of leaders" value={ledBy} maxLength={650} fault={fault} />
            <Tick name="own" value={id} checked={hasOwnVehicles}>
              comes in its own vehicles
            </Tick>
          </div>
        </fieldset>
      </details>
    </li>
  );
}

function Dates({ view: { values, weekdays, rows, fault } }: FormProps): VNode {
  const of = (field: string): string => values[field] ?? '';
  return (
    <fieldset>
      <legend>Dates</legend>
      <p>A stretch of time, single days, or both: 100 dates at most.</p>
      <div class="fields">
        <Input id="from" label="From" type="date" value={of('from')} fault={fault} />
        <Input id="to" label="To" type="date" value={of('to')} fault={fault} />
      </div>
      <fieldset class="bare">
        <legend>On</legend>
        <div class="ticks-row">
          {WEEKDAYS.map((name, i) => (
            <Tick name="on" value={String(i + 1)} checked={weekdays.includes(i + 1)}>
              {name}
            </Tick>
          ))}
        </div>
        <p class="hint">none ticked: every day</p>
      </fieldset>
      <div class="fields">
        {upTo(rows.dates).map((n) => (
          <Input
            id={`date${n}`}
            label={n === 1 ? 'Single days' : `Day ${n}`}
            type="date"
            value={of(`date${n}`)}
            fault={fault}
          />
        ))}
      </div>
    </fieldset>
  );
}

function Vehicles({ view: { values, rows, fault } }: FormProps): VNode {
  const of = (field: string): string => values[field] ?? '';
  return (
    <fieldset>
      <legend>Vehicles that the cohorts share</legend>
      <p>Each is with one cohort a day. None stated: every cohort rides in its own.</p>
      {upTo(rows.vehicles).map((n) => (
        <div class="fields">
          <Input
            id={`vehicle${n}`}
            label={`Vehicle ${n}: name`}
            value={of(`vehicle${n}`)}
            maxLength={200}
            fault={fault}
          />
          <Input
            id={`seats${n}`}
            label={`Vehicle ${n}: seats, the driver’s too`}
            type="number"
            min={1}
            max={100}
            step={1}
            value={of(`seats${n}`)}
            fault={fault}
          />
          <Select
            id={`clearance${n}`}
            label={`Vehicle ${n}: kind`}
            value={of(`clearance${n}`)}
            fault={fault}
            options={CLEARANCES}
          />
        </div>
      ))}
    </fieldset>
  );
}

function Limits({ view: { values, rows, trailheads, fault } }: FormProps): VNode {
  const of = (field: string): string => values[field] ?? '';
  const count = (id: string, label: string) => (
    <Input id={id} label={label} type="number" min={0} step={1} value={of(id)} fault={fault} />
  );
  return (
    <fieldset>
      <legend>Limits beside those of the routes</legend>
      <p>What the routes state counts already; the stricter of two is kept.</p>
      <datalist id="trailheads">
        {trailheads.map((name) => (
          <option value={name} />
        ))}
      </datalist>
      {upTo(rows.limits).map((n) => (
        <div class="fields limit">
          <Select
            id={`limitAt${n}`}
            label={`Limit ${n}: of`}
            value={of(`limitAt${n}`)}
            options={[
              ['trailhead', 'a trailhead'],
              ['who', 'an office that gives permits'],
            ]}
          />
          <Input
            id={`place${n}`}
            label={`Limit ${n}: its name`}
            list="trailheads"
            value={of(`place${n}`)}
            maxLength={200}
            fault={fault}
          />
          {count(`parties${n}`, `Limit ${n}: parties a day`)}
          {count(`size${n}`, `Limit ${n}: people in a party`)}
          {count(`spaces${n}`, `Limit ${n}: parking spaces`)}
        </div>
      ))}
    </fieldset>
  );
}

function Missing({ view, frame }: FormProps & { readonly frame: PageFrame }): VNode {
  return (
    <div class="box notice">
      <p>
        <strong>A board needs routes, and cohorts that have walked.</strong>
      </p>
      <ul>
        {view.routes === 0 && (
          <li>
            There are no routes yet. <a href={frame.to('/routes')}>Add some</a>: GPX or GeoJSON files.
          </li>
        )}
        {view.cohorts.length === 0 && (
          <li>
            There is no cohort yet. <a href={frame.to('/cohorts/new')}>Make a cohort</a>, and record a day
            that it has walked.
          </li>
        )}
      </ul>
    </div>
  );
}

/** What a season board is asked: cohorts, dates, and what they share. */
export function seasonFormPage(view: SeasonFormView, frame: PageFrame): string {
  const { cohorts, cohortsBeside, routes, values, solveS, fault } = view;
  return pageHtml({
    title: 'Who goes when?',
    notDone: fault === null ? null : 'No board made',
    frame,
    section: 'season',
    children: (
      <>
        <p>
          A day and a route for each of many cohorts, within the vehicles, permits, parking and leaders that
          they share. Most cohorts placed comes first, then the worst score, then the sum; only what fits or
          is a stretch is given out.
        </p>
        {cohorts.length === 0 || routes === 0 ? (
          <Missing view={view} frame={frame} />
        ) : (
          <form method="get" action={frame.to('/season/board')} class="season">
            <FaultNote fault={fault} said="No board has been made." />
            <fieldset>
              <legend>Cohorts</legend>
              <p>
                Days that a cohort cannot go are written as 2026-07-11, several with a blank between. Leaders
                are labels such as l1, never names: one leader is with one cohort a day.
              </p>
              {fault?.field === 'cohort' && <p class="fault">{fault.text}</p>}
              <ul class="choose" id="cohort">
                {cohorts.map((cohort) => (
                  <Cohort cohort={cohort} view={view} />
                ))}
              </ul>
              {cohortsBeside > 0 && (
                <p class="hint">
                  {plural(cohortsBeside, 'cohort')} made earlier {cohortsBeside === 1 ? 'is' : 'are'} not
                  listed: one board takes 100 at most.
                </p>
              )}
            </fieldset>
            <Dates view={view} />
            <Vehicles view={view} />
            <Limits view={view} />
            <div class="fields">
              <Input
                id="name"
                label="Name of the season"
                hint="stands over the printed board"
                value={values.name ?? ''}
                maxLength={200}
                fault={fault}
              />
            </div>
            <div class="row">
              <button type="submit" class="main">
                Make the board
              </button>
              <p class="quiet">
                {plural(routes, 'route')} looked at. Most boards take a few seconds; the search ends after{' '}
                {solveS} s at most, with the best found. Nothing of it is stored.
              </p>
            </div>
          </form>
        )}
      </>
    ),
  });
}

export const SEASON_FORM_STYLE = `
.choose{list-style:none;padding:0;margin:.4rem 0}
.choose>li{border-bottom:1px solid var(--hair);padding:.2rem 0}
.choose .quiet{display:inline-block}
.choose details{margin-left:2.1rem}
.choose details[open]{padding-bottom:.7rem}
.choose .fields .tick{align-self:end}
.season .bare{border:0;padding:0;margin:.8rem 0}
.season .limit+.limit,.season .fields+.fields{margin-top:.8rem}
`;
