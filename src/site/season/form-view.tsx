/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { plural } from '../../text/words.ts';
import { CLEARANCES, FaultNote, type FieldAt, faultAt, fieldsAt, Input, Select, Tick } from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';
import type { SeasonFormCohort, SeasonFormView } from './state.ts';

interface FormProps {
  readonly view: SeasonFormView;
  readonly at: (id: string) => FieldAt;
}

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];

const upTo = (count: number): readonly number[] => Array.from({ length: count }, (_, i) => i + 1);

/** What the fields are called where all of them are seen, by their names. */
function seasonLabels({ cohorts, rows }: SeasonFormView): Readonly<Record<string, string>> {
  return Object.fromEntries([
    ['cohort', 'Cohorts to place'],
    ...cohorts.flatMap(({ id, name }) => [
      [`notOn-${id}`, `${name}: cannot go on`],
      [`ledBy-${id}`, `${name}: labels of leaders`],
    ]),
    ['from', 'From'],
    ['to', 'To'],
    ...upTo(rows.dates).map((n) => [`date${n}`, n === 1 ? 'Single days' : `Day ${n}`]),
    ...upTo(rows.vehicles).flatMap((n) => [
      [`vehicle${n}`, `Vehicle ${n}: name`],
      [`seats${n}`, `Vehicle ${n}: seats, the driver’s too`],
      [`clearance${n}`, `Vehicle ${n}: kind`],
    ]),
    ...upTo(rows.limits).flatMap((n) => [
      [`limitAt${n}`, `Limit ${n}: of`],
      [`place${n}`, `Limit ${n}: its name`],
      [`parties${n}`, `Limit ${n}: parties a day`],
      [`size${n}`, `Limit ${n}: people in a party`],
      [`spaces${n}`, `Limit ${n}: parking spaces`],
    ]),
    ['name', 'Name of the season'],
  ]);
}

function Cohort({ cohort, view, at }: FormProps & { readonly cohort: SeasonFormCohort }): VNode {
  const { id, name, people, isChosen, notOn, ledBy, hasOwnVehicles } = cohort;
  const { fault } = view;
  const isWrong = [`notOn-${id}`, `ledBy-${id}`].some((field) => faultAt(fault, field) !== undefined);
  const isOpen = notOn !== '' || ledBy !== '' || hasOwnVehicles || isWrong;
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
            <Input {...at(`notOn-${id}`)} label="Cannot go on" maxLength={1100} />
            <Input {...at(`ledBy-${id}`)} label="Labels of leaders" maxLength={650} />
            <Tick name="own" value={id} checked={hasOwnVehicles}>
              comes in its own vehicles
            </Tick>
          </div>
        </fieldset>
      </details>
    </li>
  );
}

function Dates({ view: { weekdays, rows }, at }: FormProps): VNode {
  return (
    <fieldset>
      <legend>Dates</legend>
      <p>A stretch of time, single days, or both: 100 dates at most.</p>
      <div class="fields">
        <Input {...at('from')} type="date" />
        <Input {...at('to')} type="date" />
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
          <Input {...at(`date${n}`)} type="date" />
        ))}
      </div>
    </fieldset>
  );
}

function Vehicles({ view: { rows }, at }: FormProps): VNode {
  return (
    <fieldset>
      <legend>Vehicles that the cohorts share</legend>
      <p>Each is with one cohort a day. None stated: every cohort rides in its own.</p>
      {upTo(rows.vehicles).map((n) => (
        <div class="fields">
          <Input {...at(`vehicle${n}`)} maxLength={200} />
          <Input {...at(`seats${n}`)} type="number" min={1} max={100} step={1} />
          <Select {...at(`clearance${n}`)} options={CLEARANCES} />
        </div>
      ))}
    </fieldset>
  );
}

function Limits({ view: { rows, trailheads }, at }: FormProps): VNode {
  const count = (id: string) => <Input {...at(id)} type="number" min={0} step={1} />;
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
            {...at(`limitAt${n}`)}
            options={[
              ['trailhead', 'a trailhead'],
              ['who', 'an office that gives permits'],
            ]}
          />
          <Input {...at(`place${n}`)} list="trailheads" maxLength={200} />
          {count(`parties${n}`)}
          {count(`size${n}`)}
          {count(`spaces${n}`)}
        </div>
      ))}
    </fieldset>
  );
}

function Missing({ view, frame }: { readonly view: SeasonFormView; readonly frame: PageFrame }): VNode {
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
  const labels = seasonLabels(view);
  const at = fieldsAt(values, labels, fault);
  const ofCohorts = faultAt(fault, 'cohort');
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
            <FaultNote fault={fault} labels={labels} said="No board has been made." />
            <fieldset aria-describedby={ofCohorts === undefined ? undefined : 'cohort-fault'}>
              <legend>Cohorts to place</legend>
              <p>
                Days that a cohort cannot go are written as 2026-07-11, several with a blank between. Leaders
                are labels such as l1, never names: one leader is with one cohort a day.
              </p>
              {ofCohorts !== undefined && (
                <p class="fault" id="cohort-fault">
                  {ofCohorts.text}
                </p>
              )}
              <ul class="choose" id="cohort">
                {cohorts.map((cohort) => (
                  <Cohort cohort={cohort} view={view} at={at} />
                ))}
              </ul>
              {cohortsBeside > 0 && (
                <p class="hint">
                  {plural(cohortsBeside, 'cohort')} made earlier {cohortsBeside === 1 ? 'is' : 'are'} not
                  listed: one board takes 100 at most.
                </p>
              )}
            </fieldset>
            <Dates view={view} at={at} />
            <Vehicles view={view} at={at} />
            <Limits view={view} at={at} />
            <div class="fields">
              <Input {...at('name')} hint="stands over the printed board" maxLength={200} />
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
