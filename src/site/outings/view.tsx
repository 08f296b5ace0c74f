import type { StoredCohort } from '../../storage/cohorts.ts';
import type { StoredOuting } from '../../storage/outings.ts';
import { noteClause } from '../../text/notes.ts';
import { climbText, durationText, lengthText, plural } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import {
  FaultNote,
  Fields,
  type FormState,
  faultAt,
  labelOptions,
  notStored,
  Tick,
  Ticks,
} from '../field.tsx';
import type { FormField } from '../form-table.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { CardTable, LinkRow, SubmitRow, small } from '../parts.tsx';
import { handForm, trackForm } from './form.ts';

const length = ({ outing }: StoredOuting, units: UnitSystem) => lengthText(outing.distanceM, units);
const climb = ({ outing: { gainM } }: StoredOuting, units: UnitSystem) =>
  gainM === null ? 'not known' : climbText(gainM, units);

function whoText({ outing: { members } }: StoredOuting): string {
  if (members === null) return 'counts for everyone';
  return members.length > 6 ? plural(members.length, 'label') : members.join(' ');
}

function sourceCell({ outing: { source, notes } }: StoredOuting, units: UnitSystem) {
  const clauses = notes
    .filter(({ code }) => code !== 'treeline-unknown')
    .map((note) => noteClause(note, units));
  return (
    <>
      {source === 'track' ? 'a recording' : 'by hand'}
      {clauses.length > 0 && <span class="hint"> {clauses.join('; ')}</span>}
    </>
  );
}

function outingTable(
  cohort: StoredCohort,
  outings: readonly StoredOuting[],
  isNew: StoredOuting | null,
  { units, to }: PageFrame,
) {
  return (
    <CardTable
      caption="Days walked, the latest first"
      hasCaptionUnseen
      rows={outings}
      columns={[
        { head: 'Day', cell: ({ id, outing }) => `${outing.date}${id === isNew?.id ? ' (new)' : ''}` },
        small<StoredOuting>('Length', (stored) => length(stored, units), true),
        small<StoredOuting>('Climb', (stored) => climb(stored, units), true),
        small<StoredOuting>(
          'Walking',
          ({ outing: { movingMin } }) => (movingMin === null ? 'not known' : durationText(movingMin)),
          true,
        ),
        small<StoredOuting>('Class', ({ outing }) => outing.rockClass ?? 'not stated'),
        small<StoredOuting>('Who', whoText),
        small<StoredOuting>('From', (stored) => sourceCell(stored, units)),
        {
          head: '',
          class: 'screen',
          cell: (stored) => (
            <details>
              <summary>
                erase …
                <span class="unseen">
                  {' '}
                  the day {stored.outing.date}, {length(stored, units)}
                </span>
              </summary>
              <form method="post" action={to(`/cohorts/${cohort.id}/outings/${stored.id}/delete`)}>
                <button type="submit">
                  Erase {stored.outing.date}
                  <span class="unseen">, {length(stored, units)}</span>
                </button>
              </form>
            </details>
          ),
        },
      ]}
    />
  );
}

/** The days that a cohort has walked, the latest first; `isNew`: the one that was stored just now. */
export function outingsPage(
  stored: StoredCohort,
  outings: readonly StoredOuting[],
  isNew: StoredOuting | null,
  frame: PageFrame,
): string {
  const { name } = stored.cohort;
  const path = `/cohorts/${stored.id}`;
  const looks = (one: StoredOuting) =>
    [one.outing.date, length(one, frame.units), climb(one, frame.units)].join();
  const isTwice = isNew !== null && outings.some((one) => one.id !== isNew.id && looks(one) === looks(isNew));
  return pageHtml({
    title: `Days walked by ${name}`,
    frame,
    section: 'cohorts',
    way: [[name, path]],
    children: (
      <>
        {isNew !== null && (
          <p class="box notice" role="status">
            The day is stored. <a href={frame.to(path)}>To the shortlist</a>
            {isTwice &&
              ' Another day of this date has the same length and climb: if it is the same day, erase one. Counted twice it makes the pace look surer than it is.'}
          </p>
        )}
        <LinkRow frame={frame} hasMain links={[[`${path}/outings/new`, 'Record a day']]} />
        {outings.length === 0 ? (
          <p class="lead">
            Nothing is recorded yet. A recording, or length, climb and time by hand, says what this group has
            shown; without one no route can be said to fit.
          </p>
        ) : (
          outingTable(stored, outings, isNew, frame)
        )}
      </>
    ),
  });
}

interface OutingFormView extends FormState {
  readonly stored: StoredCohort;
  readonly were: readonly string[];
  /** Whether the fault asks to confirm that the figures are right all the same. */
  readonly asksToConfirm: boolean;
  readonly routes: readonly { readonly id: string; readonly name: string }[];
}

/** Who was there, and what they tell of it; the second time on a page with a `prefix`. */
function reportPart(
  fields: readonly FormField[],
  prefix: string,
  { stored, were, ...state }: OutingFormView,
) {
  const { members } = stored.cohort;
  return (
    <>
      {members != null && members.length > 0 && (
        <Ticks
          legend="Who was there"
          id={`${prefix}members`}
          name="members"
          options={labelOptions(members)}
          ticked={were}
          hint="Nobody ticked: it counts for everyone."
        />
      )}
      <details open={fields.some(({ id }) => faultAt(state.fault, id) !== undefined)}>
        <summary>
          Why it turned back, what nearly went wrong
          {prefix !== '' && <span class="unseen"> on the recorded day</span>}
        </summary>
        <Fields fields={fields} {...state} />
      </details>
    </>
  );
}

/** A day to record: by hand, as on a phone after the walk, or by file. */
export function outingFormPage(view: OutingFormView, frame: PageFrame): string {
  const { stored, values, fault, asksToConfirm, routes } = view;
  const hand = handForm(frame.units);
  const track = trackForm(routes);
  const { name } = stored.cohort;
  const path = `/cohorts/${stored.id}/outings`;
  return pageHtml({
    title: `Record a day of ${name}`,
    notDone: notStored(fault),
    frame,
    section: 'cohorts',
    way: [
      [name, `/cohorts/${stored.id}`],
      ['Days walked', path],
    ],
    children: (
      <>
        <FaultNote fault={fault} table={[...hand.table, ...track.table]} />
        <form method="post" action={frame.to(path)}>
          <fieldset>
            <legend>By hand</legend>
            <Fields fields={hand.figures} values={values} fault={fault} />
            {reportPart(hand.report, '', view)}
            {asksToConfirm && (
              <Tick name="confirmed" value="true" checked={false}>
                These figures are right all the same
              </Tick>
            )}
            <SubmitRow text="Store the day" />
          </fieldset>
        </form>
        <form method="post" action={frame.to(`${path}/file`)} encType="multipart/form-data">
          <fieldset>
            <legend>By file</legend>
            <p class="hint">
              A GPX recording with its clock. It is measured and dropped; its ends near the meeting place are
              cut.
            </p>
            <Fields fields={track.file} values={values} fault={fault} />
            {reportPart(track.report, 'track-', view)}
            <SubmitRow text="Send the recording" />
          </fieldset>
        </form>
      </>
    ),
  });
}
