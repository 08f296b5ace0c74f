/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { CLEARANCES, FaultNote, type FormFault, Input, Select, TextArea } from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';

/** The texts of the fields by their names, as they are stored or as they were sent. */
export type FormValues = Readonly<Record<string, string>>;

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
}

const CLASSES = ['1', '1+', '2-', '2', '2+', '3-', '3', '3+', '4', '5.0'];
const MONTH_DAY = '(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])';

function Closures({
  view,
  of,
}: {
  readonly view: RouteFormView;
  readonly of: (id: string) => string;
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
          <Input
            id={`closure${n}From`}
            label={`Closure ${n} from`}
            value={of(`closure${n}From`)}
            fault={view.fault}
          />
          <Input
            id={`closure${n}To`}
            label={`Closure ${n} to`}
            value={of(`closure${n}To`)}
            fault={view.fault}
          />
          <Input
            id={`closure${n}Reason`}
            label={`Closure ${n} why`}
            value={of(`closure${n}Reason`)}
            maxLength={4000}
          />
        </div>
      ))}
    </fieldset>
  );
}

/** What a GPX cannot say of a route, with what the terrain says beside it. */
export function routeFormPage(view: RouteFormView, frame: PageFrame): string {
  const { id, name, revision, values, fault, hints, notes } = view;
  const of = (field: string): string => values[field] ?? '';
  const isUs = frame.units === 'us';
  return pageHtml({
    title: `Change ${name}`,
    frame,
    section: 'routes',
    way: [
      { name: 'Routes', path: '/routes' },
      { name, path: `/routes/${id}` },
    ],
    children: (
      <>
        <FaultNote fault={fault} />
        <p>
          Everything here may be left empty: what is missing is asked for, never taken to be fine.
          {notes.length > 0 && ` Of the line: ${notes.join('; ')}.`}
        </p>
        <form method="post" action={frame.to(`/routes/${id}/edit`)}>
          <input type="hidden" name="revision" value={revision} />
          <fieldset>
            <legend>The ground</legend>
            <div class="fields">
              <Input id="name" label="Name" value={of('name')} maxLength={200} fault={fault} />
              <Input
                id="rockClass"
                label="Rock class of the hardest move"
                value={of('rockClass')}
                list="classes"
                hint={hints.rockClass}
                fault={fault}
              />
              <datalist id="classes">
                {CLASSES.map((value) => (
                  <option value={value} />
                ))}
              </datalist>
              <Select
                id="surface"
                label="Surface"
                value={of('surface')}
                hint={hints.surface}
                fault={fault}
                options={[
                  ['', 'not stated'],
                  ['trail', 'trail'],
                  ['rough', 'rough'],
                  ['talus', 'talus'],
                  ['snow', 'snow'],
                ]}
              />
              <Input
                id="treeline"
                label={`Treeline, ${isUs ? 'feet' : 'metres'}`}
                type="number"
                step="any"
                value={of('treeline')}
                hint={hints.treeline}
                fault={fault}
              />
            </div>
          </fieldset>
          <fieldset>
            <legend>Trailhead and road</legend>
            <p class="hint">{hints.trailhead}</p>
            <div class="fields">
              <Input
                id="trailhead"
                label="Name of the trailhead"
                value={of('trailhead')}
                maxLength={200}
                fault={fault}
              />
              <Select
                id="roadClearance"
                label="The road needs"
                value={of('roadClearance')}
                fault={fault}
                options={[['', 'not stated'], ...CLEARANCES]}
              />
              <Input
                id="road"
                label={`Road from the meeting place, ${isUs ? 'miles' : 'km'}`}
                type="number"
                min={0}
                step="any"
                value={of('road')}
                fault={fault}
              />
              <Input
                id="roadMin"
                label="Drive, minutes"
                type="number"
                min={0}
                step="any"
                value={of('roadMin')}
                fault={fault}
              />
              <Input
                id="roadStatus"
                label="State of the road"
                value={of('roadStatus')}
                maxLength={200}
                fault={fault}
              />
              <Input
                id="parkingSpaces"
                label="Parking spaces"
                type="number"
                min={0}
                step={1}
                value={of('parkingSpaces')}
                fault={fault}
              />
            </div>
          </fieldset>
          <fieldset>
            <legend>Rules</legend>
            <div class="fields">
              <Input
                id="groupSizeLimit"
                label="Largest party, leaders counted"
                type="number"
                min={1}
                step={1}
                value={of('groupSizeLimit')}
                fault={fault}
              />
              <Input
                id="permitWho"
                label="Permit from"
                value={of('permitWho')}
                maxLength={200}
                fault={fault}
              />
              <Input
                id="partiesPerDay"
                label="Parties a day by permit"
                type="number"
                min={0}
                step={1}
                value={of('partiesPerDay')}
                fault={fault}
              />
              <Input
                id="seasonFrom"
                label="Season from, month-day"
                value={of('seasonFrom')}
                pattern={MONTH_DAY}
                title="a month and a day such as 06-15"
                hint="such as 06-15"
                fault={fault}
              />
              <Input
                id="seasonTo"
                label="Season to, month-day"
                value={of('seasonTo')}
                pattern={MONTH_DAY}
                title="a month and a day such as 10-01"
                hint="such as 10-01"
                fault={fault}
              />
            </div>
          </fieldset>
          <Closures view={view} of={of} />
          <TextArea
            id="notes"
            label="Notes, shown on the plan"
            value={of('notes')}
            maxLength={4000}
            fault={fault}
          />
          <p class="row">
            <button type="submit" class="main">
              Store
            </button>
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
