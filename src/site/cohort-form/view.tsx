/** @jsxRuntime automatic @jsxImportSource preact */
import type { StoredCohort } from '../../storage/cohorts.ts';
import { FaultNote, FieldGroup, type FormFault, labelOptions, notStored, Ticks } from '../field.tsx';
import { shownValues, valuesOf } from '../form-table.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { EraseBox, StoreRow } from '../parts.tsx';
import { cohortForm } from './form.ts';

/** A cohort to make (`stored` `null`) or to change; as it was sent, where that was refused. */
export function cohortFormPage(
  stored: (StoredCohort & { readonly eraseAfter: string }) | null,
  sent: { readonly form: URLSearchParams; readonly fault: FormFault } | null,
  frame: PageFrame,
): string {
  const cohort = stored?.cohort ?? null;
  const { table, who, ease, day, drive, vehicles } = cohortForm(cohort, frame.units);
  const fault = sent?.fault ?? null;
  const values = sent !== null ? valuesOf(sent.form) : cohort === null ? {} : shownValues(table, cohort);
  const state = { values, fault };
  const members = cohort?.members ?? [];
  const path = stored === null ? '/' : `/cohorts/${stored.id}`;
  return pageHtml({
    title: cohort === null ? 'Make a cohort' : `Change ${cohort.name}`,
    notDone: notStored(fault),
    frame,
    section: 'cohorts',
    way: cohort === null ? [] : [[cohort.name, path]],
    children: (
      <>
        <FaultNote fault={fault} table={table} />
        <p>
          A name and the number of participants are enough to begin with. What is missing is asked for, never
          taken to be fine.
        </p>
        <form method="post" action={frame.to(stored === null ? '/cohorts/new' : `${path}/edit`)}>
          {stored !== null && <input type="hidden" name="revision" value={stored.revision} />}
          <FieldGroup legend="Who" fields={who} {...state}>
            {members.length > 0 && (
              <Ticks
                legend="Who goes on this trip"
                id="going"
                name="going"
                options={labelOptions(members)}
                ticked={sent?.form.getAll('going') ?? cohort?.going ?? []}
                hint="Nobody ticked: all of them."
                fault={fault}
              />
            )}
          </FieldGroup>
          <FieldGroup legend="What they are at ease with" fields={ease} {...state} />
          <FieldGroup legend="The day" fields={day} {...state} />
          <FieldGroup legend="The drive" fields={drive} rows={vehicles} {...state}>
            <p class="label">Vehicles</p>
          </FieldGroup>
          <StoreRow back={frame.to(path)} />
        </form>
        {stored !== null && (
          <>
            <p class="quiet">
              Its data are erased after {stored.eraseAfter}; a later trip moves that day.{' '}
              <a href={frame.to(`/v1${path}/export`)}>All that is kept of it</a>.
            </p>
            <EraseBox
              title="Erase this cohort"
              action={frame.to(`${path}/delete`)}
              text="Every trace of it and of its days goes at once. Copies and backups of the database outlive this."
              button={`Erase ${stored.cohort.name}`}
            />
          </>
        )}
      </>
    ),
  });
}
