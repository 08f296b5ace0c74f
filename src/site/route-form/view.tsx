/** @jsxRuntime automatic @jsxImportSource preact */
import type { StoredRoute } from '../../storage/routes.ts';
import { noteClause } from '../../text/notes.ts';
import { heightText } from '../../text/words.ts';
import { FaultNote, Field, Fields, type FormState, notStored } from '../field.tsx';
import { eachRow } from '../form-table.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { EraseBox, StoreRow } from '../parts.tsx';
import { routeForm } from './form.ts';

const CLASSES = ['1', '1+', '2-', '2', '2+', '3-', '3', '3+', '4', '5.0'];

export interface RouteFormView extends FormState {
  readonly stored: StoredRoute;
  /** The next route of which something is to be stated; `null`: no other. */
  readonly nextName: string | null;
}

/** What a GPX cannot say of a route, with what the terrain says beside it. */
export function routeFormPage(view: RouteFormView, frame: PageFrame): string {
  const { stored, nextName, ...state } = view;
  const { name, notes, trailhead } = stored.route;
  const form = routeForm(stored, frame.units);
  const path = `/routes/${stored.id}`;
  return pageHtml({
    title: `Change ${name}`,
    notDone: notStored(state.fault),
    frame,
    section: 'routes',
    way: [[name, path]],
    children: (
      <>
        <FaultNote fault={state.fault} table={form.table} />
        <p>
          Everything here may be left empty: what is missing is asked for, never taken to be fine.
          {notes.length > 0 &&
            ` Of the line: ${notes.map((note) => noteClause(note, frame.units)).join('; ')}.`}
        </p>
        <form method="post" action={frame.to(`${path}/edit`)}>
          <input type="hidden" name="revision" value={stored.revision} />
          <fieldset>
            <legend>The ground</legend>
            <Fields fields={form.ground} {...state} />
            <datalist id="classes">
              {CLASSES.map((value) => (
                <option value={value} />
              ))}
            </datalist>
          </fieldset>
          <fieldset>
            <legend>Trailhead and road</legend>
            <p class="hint">
              The line begins at {trailhead.latDeg.toFixed(4)}, {trailhead.lonDeg.toFixed(4)}
              {trailhead.elevationM !== null && `, ${heightText(trailhead.elevationM, frame.units)}`}.
            </p>
            <Fields fields={form.road} {...state} />
          </fieldset>
          <fieldset>
            <legend>Rules</legend>
            <Fields fields={form.rules} {...state} />
          </fieldset>
          <fieldset>
            <legend>Closures</legend>
            <p class="hint">
              Days as <code>06-15</code> for every year or <code>2026-06-15</code> for one. Empty rows say
              nothing.
            </p>
            {eachRow(form.closures).map((row) => (
              <Fields fields={row} {...state} />
            ))}
          </fieldset>
          <Field field={form.notes} {...state} />
          <StoreRow back={frame.to(path)}>
            {nextName !== null && (
              <button type="submit" name="then" value="next">
                Store, then state of {nextName}
              </button>
            )}
          </StoreRow>
        </form>
        <EraseBox
          title="Delete this route"
          action={frame.to(`${path}/delete`)}
          text="It is deleted for all cohorts. Its file can be sent again."
          button={`Delete ${name}`}
        />
      </>
    ),
  });
}
