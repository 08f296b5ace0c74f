/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import type { UnitSystem } from '../../units.ts';
import {
  CLEARANCES,
  FaultNote,
  type FieldAt,
  type FormFault,
  type FormValues,
  fieldsAt,
  Input,
  notStored,
  Select,
  TextArea,
} from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';

/** Closures that the form has room for beside those there are (design). */
export const SPARE_ROWS = 2;

export interface RouteFormView {
  readonly id: string;
  readonly name: string;
  readonly revision: number;
  readonly values: FormValues;
  readonly closures: number;
  readonly fault: FormFault | null;
  /** What the terrain says, beside the fields it helps with. */
  readonly hints: {
    readonly rockClass: string;
    readonly surface: string;
    readonly treeline: string;
    readonly trailhead: string;
  };
  /** What was noted when the line was measured. */
  readonly notes: readonly string[];
  /** The next route of which something is to be stated; `null`: no other. */
  readonly nextName: string | null;
}

/** What the fields are called, by their names. */
export function routeLabels(units: UnitSystem, closures: number): Readonly<Record<string, string>> {
  const isUs = units === 'us';
  const rows = Array.from({ length: closures + SPARE_ROWS }, (_, i) => i + 1);
  return {
    name: 'Name',
    rockClass: 'Rock class of the hardest move',
    surface: 'Surface',
    treeline: `Treeline, ${isUs ? 'feet' : 'metres'}`,
    trailhead: 'Name of the trailhead',
    roadClearance: 'The road needs',
    road: `Road from the meeting place, ${isUs ? 'miles' : 'km'}`,
    roadMin: 'Drive, minutes',
    roadStatus: 'State of the road',
    parkingSpaces: 'Parking spaces',
    pickUp: 'Pick-up at the end of a one-way walk',
    groupSizeLimit: 'Largest party, leaders counted',
    permitWho: 'Permit from',
    partiesPerDay: 'Parties a day by permit',
    seasonFrom: 'Season from, month-day',
    seasonTo: 'Season to, month-day',
    notes: 'Notes, shown on the plan',
    ...Object.fromEntries(
      rows.flatMap((n) => [
        [`closure${n}From`, `Closure ${n} from`],
        [`closure${n}To`, `Closure ${n} to`],
        [`closure${n}Reason`, `Closure ${n} why`],
      ]),
    ),
  };
}

const CLASSES = ['1', '1+', '2-', '2', '2+', '3-', '3', '3+', '4', '5.0'];
const MONTH_DAY = '(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])';

function Closures({
  view,
  at,
}: {
  readonly view: RouteFormView;
  readonly at: (id: string) => FieldAt;
}): VNode {
  const rows = Array.from({ length: view.closures + SPARE_ROWS }, (_, i) => i + 1);
  return (
    <fieldset>
      <legend>Closures</legend>
      <p class="hint">
        Days as <code>06-15</code> for every year or <code>2026-06-15</code> for one. Empty rows say nothing.
      </p>
      {rows.map((n) => (
        <div class="fields">
          <Input {...at(`closure${n}From`)} />
          <Input {...at(`closure${n}To`)} />
          <Input {...at(`closure${n}Reason`)} maxLength={4000} />
        </div>
      ))}
    </fieldset>
  );
}

/**
 * What a GPX cannot say of a route, with what the terrain says beside it.
 * Long because it is markup: the page from its top to its end.
 */
export function routeFormPage(view: RouteFormView, frame: PageFrame): string {
  const { id, name, revision, values, fault, hints, notes, nextName } = view;
  const labels = routeLabels(frame.units, view.closures);
  const at = fieldsAt(values, labels, fault);
  return pageHtml({
    title: `Change ${name}`,
    notDone: notStored(fault),
    frame,
    section: 'routes',
    way: [
      { name: 'Routes', path: '/routes' },
      { name, path: `/routes/${id}` },
    ],
    children: (
      <>
        <FaultNote fault={fault} labels={labels} />
        <p>
          Everything here may be left empty: what is missing is asked for, never taken to be fine.
          {notes.length > 0 && ` Of the line: ${notes.join('; ')}.`}
        </p>
        <form method="post" action={frame.to(`/routes/${id}/edit`)}>
          <input type="hidden" name="revision" value={revision} />
          <fieldset>
            <legend>The ground</legend>
            <div class="fields">
              <Input {...at('name')} maxLength={200} />
              <Input {...at('rockClass')} list="classes" hint={hints.rockClass} />
              <datalist id="classes">
                {CLASSES.map((value) => (
                  <option value={value} />
                ))}
              </datalist>
              <Select
                {...at('surface')}
                hint={hints.surface}
                options={[
                  ['', 'not stated'],
                  ['trail', 'trail'],
                  ['rough', 'rough'],
                  ['talus', 'talus'],
                  ['snow', 'snow'],
                ]}
              />
              <Input {...at('treeline')} type="number" step="any" hint={hints.treeline} />
            </div>
          </fieldset>
          <fieldset>
            <legend>Trailhead and road</legend>
            <p class="hint">{hints.trailhead}</p>
            <div class="fields">
              <Input {...at('trailhead')} maxLength={200} />
              <Select {...at('roadClearance')} options={[['', 'not stated'], ...CLEARANCES]} />
              <Input {...at('road')} type="number" min={0} step="any" />
              <Input {...at('roadMin')} type="number" min={0} step="any" />
              <Input {...at('roadStatus')} maxLength={200} />
              <Input {...at('parkingSpaces')} type="number" min={0} step={1} />
              <Input
                {...at('pickUp')}
                maxLength={200}
                hint="who brings the group back to its start, and when"
              />
            </div>
          </fieldset>
          <fieldset>
            <legend>Rules</legend>
            <div class="fields">
              <Input {...at('groupSizeLimit')} type="number" min={1} step={1} />
              <Input {...at('permitWho')} maxLength={200} />
              <Input {...at('partiesPerDay')} type="number" min={0} step={1} />
              <Input
                {...at('seasonFrom')}
                pattern={MONTH_DAY}
                title="a month and a day such as 06-15"
                hint="such as 06-15"
              />
              <Input
                {...at('seasonTo')}
                pattern={MONTH_DAY}
                title="a month and a day such as 10-01"
                hint="such as 10-01"
              />
            </div>
          </fieldset>
          <Closures view={view} at={at} />
          <TextArea {...at('notes')} maxLength={4000} />
          <p class="row">
            <button type="submit" class="main">
              Store
            </button>
            {nextName !== null && (
              <button type="submit" name="then" value="next">
                Store, then state of {nextName}
              </button>
            )}
            <a class="button" href={frame.to(`/routes/${id}`)}>
              Back without a change
            </a>
          </p>
        </form>
        <details>
          <summary>Delete this route</summary>
          <form method="post" action={frame.to(`/routes/${id}/delete`)}>
            <p>It is deleted for all cohorts. Its file can be sent again.</p>
            <button type="submit">Delete {name}</button>
          </form>
        </details>
      </>
    ),
  });
}
