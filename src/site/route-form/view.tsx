/** @jsxRuntime automatic @jsxImportSource preact */
import type { StoredRoute } from '../../storage/routes.ts';
import { noteClause } from '../../text/notes.ts';
import { heightText } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { FaultNote, Field, FieldGroup, type FormState, notStored } from '../field.tsx';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { EraseBox, StoreRow } from '../parts.tsx';
import { routeForm } from './form.ts';

const CLASSES = ['1', '1+', '2-', '2', '2+', '3-', '3', '3+', '4', '5.0'];

function startText({ route: { trailhead } }: StoredRoute, units: UnitSystem): string {
  const { latDeg, lonDeg, elevationM } = trailhead;
  const height = elevationM === null ? '' : `, ${heightText(elevationM, units)}`;
  return `The line begins at ${latDeg.toFixed(4)}, ${lonDeg.toFixed(4)}${height}.`;
}

/**
 * What a GPX cannot say of a route, with what the terrain says beside it.
 * @param nextName the next route of which something is to be stated; `null`: no other
 */
export function routeFormPage(
  stored: StoredRoute,
  nextName: string | null,
  state: FormState,
  frame: PageFrame,
) {
  const { name, notes } = stored.route;
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
          <FieldGroup legend="The ground" fields={form.ground} {...state} />
          <datalist id="classes">
            {CLASSES.map((value) => (
              <option value={value} />
            ))}
          </datalist>
          <FieldGroup
            legend="Trailhead and road"
            hint={startText(stored, frame.units)}
            fields={form.road}
            {...state}
          />
          <FieldGroup legend="Rules" fields={form.rules} {...state} />
          <FieldGroup
            legend="Closures"
            hint={
              <>
                Days as <code>06-15</code> for every year or <code>2026-06-15</code> for one. Empty rows say
                nothing.
              </>
            }
            rows={form.closures}
            {...state}
          />
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
