import type { StoredCohort } from '../../storage/cohorts.ts';
import type { NamedRoute } from '../../storage/routes.ts';
import { peopleText } from '../../text/people-words.ts';
import { plural } from '../../text/words.ts';
import { FaultNote, FaultText, FieldGroup, Fields, type FormFault, faultAt, Tick, Ticks } from '../field.tsx';
import { eachRow, valuesOf } from '../form-table.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { cohortFields, seasonForm } from './form.ts';

/** Names offered for limits at most (design). */
const MOST_TRAILHEADS = 200;
const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];

export interface SeasonFormView {
  /** What is asked so far; on a first visit nothing. */
  readonly form: URLSearchParams;
  readonly fault: FormFault | null;
  readonly cohorts: readonly StoredCohort[];
  /** Cohorts that the list has no room for. */
  readonly cohortsBeside: number;
  readonly routes: readonly NamedRoute[];
  readonly solveS: number;
}

/** A cohort to choose, with what the season is told of it; on a first visit every one is ticked. */
function cohortItem({ id, cohort }: StoredCohort, { form, fault }: SeasonFormView) {
  const fields = cohortFields(id);
  const values = valuesOf(form);
  const isChosen = form.size === 0 || form.getAll('cohort').includes(id);
  const hasOwnVehicles = form.getAll('own').includes(id);
  const isOpen = fields.some(
    (field) => (values[field.id] ?? '').trim() !== '' || faultAt(fault, field.id) !== undefined,
  );
  return (
    <li>
      <Tick name="cohort" value={id} checked={isChosen}>
        <strong>{cohort.name}</strong> <span class="quiet">{peopleText(cohort)}</span>
      </Tick>
      <details open={isOpen || hasOwnVehicles}>
        <summary>
          Days off, leaders, vehicles<span class="unseen"> of {cohort.name}</span>
        </summary>
        <fieldset class="bare">
          <legend class="unseen">{cohort.name}</legend>
          <Fields fields={fields} values={values} fault={fault}>
            <Tick name="own" value={id} checked={hasOwnVehicles}>
              comes in its own vehicles
            </Tick>
          </Fields>
        </fieldset>
      </details>
    </li>
  );
}

function Missing({ view, frame }: { readonly view: SeasonFormView; readonly frame: PageFrame }) {
  return (
    <div class="box notice">
      <p>
        <strong>A board needs routes, and cohorts that have walked.</strong>
      </p>
      <ul>
        {view.routes.length === 0 && (
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

function Shared({ view }: { readonly view: SeasonFormView }) {
  const { form, fault, cohorts, routes } = view;
  const { dates, vehicles, limits, name } = seasonForm(form, cohorts);
  const state = { values: valuesOf(form), fault };
  const trailheads = [...new Set(routes.flatMap(({ trailhead }) => trailhead ?? []))];
  return (
    <>
      <FieldGroup legend="Dates" {...state}>
        <p>A stretch of time, single days, or both: 100 dates at most.</p>
        <Fields fields={dates.slice(0, 2)} {...state} />
        <Ticks
          legend="On"
          name="on"
          options={WEEKDAYS.map((day, i) => [String(i + 1), day])}
          ticked={form.getAll('on')}
        >
          <p class="hint">none ticked: every day</p>
        </Ticks>
        <Fields fields={dates.slice(2)} {...state} />
      </FieldGroup>
      <FieldGroup legend="Vehicles that the cohorts share" rows={vehicles} {...state}>
        <p>Each is with one cohort a day. None stated: every cohort rides in its own.</p>
      </FieldGroup>
      <FieldGroup legend="Limits beside those of the routes" {...state}>
        <p>What the routes state counts already; the stricter of two is kept.</p>
        <datalist id="trailheads">
          {trailheads
            .sort((a, b) => a.localeCompare(b, 'en'))
            .slice(0, MOST_TRAILHEADS)
            .map((trailhead) => (
              <option value={trailhead} />
            ))}
        </datalist>
        {eachRow(limits).map((row) => (
          <Fields class="limit" fields={row} {...state} />
        ))}
      </FieldGroup>
      <Fields fields={[name]} {...state} />
    </>
  );
}

/** What a season board is asked: cohorts, dates, and what they share. */
export function seasonFormPage(view: SeasonFormView, frame: PageFrame): string {
  const { form, cohorts, cohortsBeside, routes, solveS, fault } = view;
  const { table } = seasonForm(form, cohorts);
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
        {cohorts.length === 0 || routes.length === 0 ? (
          <Missing view={view} frame={frame} />
        ) : (
          <form method="get" action={frame.to('/season/board')} class="season">
            <FaultNote fault={fault} table={table} said="No board has been made." />
            <fieldset aria-describedby={faultAt(fault, 'cohort') === undefined ? undefined : 'cohort-fault'}>
              <legend>Cohorts to place</legend>
              <p>
                Days that a cohort cannot go are written as 2026-07-11, several with a blank between. Leaders
                are labels such as l1, never names: one leader is with one cohort a day.
              </p>
              <FaultText id="cohort" fault={fault} />
              <ul class="choose" id="cohort">
                {cohorts.map((cohort) => cohortItem(cohort, view))}
              </ul>
              {cohortsBeside > 0 && (
                <p class="hint">
                  {plural(cohortsBeside, 'cohort')} made earlier {cohortsBeside === 1 ? 'is' : 'are'} not
                  listed: one board takes 100 at most.
                </p>
              )}
            </fieldset>
            <Shared view={view} />
            <div class="row">
              <button type="submit" class="main">
                Make the board
              </button>
              <p class="quiet">
                {plural(routes.length, 'route')} looked at. Most boards take a few seconds; the search ends
                after {solveS} s at most, with the best found. Nothing of it is stored.
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
