/** @jsxRuntime automatic @jsxImportSource preact */
import type { UnitSystem } from '../../units.ts';
import {
  CLEARANCES,
  FaultNote,
  type FormFault,
  type FormValues,
  fieldsAt,
  Input,
  NowStored,
  notStored,
  Select,
  Tick,
} from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';

export interface CohortFormView {
  /** `null`: a new one. */
  readonly stored: {
    readonly id: string;
    readonly name: string;
    readonly revision: number;
    /** The day after which its data are erased. */
    readonly eraseAfter: string;
  } | null;
  readonly values: FormValues;
  readonly members: readonly string[];
  readonly going: readonly string[];
  /** Rows for vehicles. */
  readonly vehicles: number;
  readonly fault: FormFault | null;
}

/** What the fields are called, by their names. */
export function cohortLabels(units: UnitSystem, vehicles: number): Readonly<Record<string, string>> {
  const isUs = units === 'us';
  const rows = Array.from({ length: vehicles }, (_, i) => i + 1);
  return {
    name: 'Name',
    participants: 'Participants',
    leaders: 'Leaders',
    ageBand: 'Age band',
    members: 'Labels of participants',
    comfortClass: 'Hardest rock class in comfort',
    aim: 'The day should be',
    sleep: `Height of the night before, ${isUs ? 'feet' : 'metres'}`,
    altitudeHistory: 'Altitude illness before, the worst of anyone',
    earliestStart: 'Earliest start',
    deadline: 'Below treeline by',
    headlamps: 'Headlamps',
    homeName: 'Meeting place',
    homeLat: 'Its latitude',
    homeLon: 'Its longitude',
    drive: `Longest drive, ${isUs ? 'miles' : 'km'}`,
    driveMin: 'Longest drive, minutes',
    going: 'Who goes on this trip',
    ...Object.fromEntries(
      rows.flatMap((n) => [
        [`seats${n}`, `Vehicle ${n}: seats`],
        [`clearance${n}`, `Vehicle ${n}: kind`],
      ]),
    ),
  };
}

const NOT_STATED = ['', 'not stated'] as const;

/**
 * A cohort to make or to change.
 * Long because it is markup: the page from its top to its end.
 */
export function cohortFormPage(view: CohortFormView, frame: PageFrame): string {
  const { stored, values, members, going, vehicles, fault } = view;
  const labels = cohortLabels(frame.units, vehicles);
  const at = fieldsAt(values, labels, fault);
  const path = stored === null ? '/cohorts/new' : `/cohorts/${stored.id}/edit`;
  return pageHtml({
    title: stored === null ? 'Make a cohort' : `Change ${stored.name}`,
    notDone: notStored(fault),
    frame,
    section: 'cohorts',
    way: [
      { name: 'Cohorts', path: '/' },
      ...(stored === null ? [] : [{ name: stored.name, path: `/cohorts/${stored.id}` }]),
    ],
    children: (
      <>
        <FaultNote fault={fault} labels={labels} />
        <p>
          A name and the number of participants are enough to begin with. What is missing is asked for, never
          taken to be fine.
        </p>
        <form method="post" action={frame.to(path)}>
          {stored !== null && <input type="hidden" name="revision" value={stored.revision} />}
          <fieldset>
            <legend>Who</legend>
            <div class="fields">
              <Input {...at('name')} required maxLength={200} />
              <Input
                {...at('participants')}
                hint="leaders not counted"
                type="number"
                min={1}
                step={1}
                required
              />
              <Input {...at('leaders')} type="number" min={0} step={1} />
              <Select
                {...at('ageBand')}
                options={[
                  NOT_STATED,
                  ['8-11', '8 to 11'],
                  ['12-14', '12 to 14'],
                  ['15-17', '15 to 17'],
                  ['adult', 'adults'],
                ]}
              />
              <Input
                {...at('members')}
                class="wide"
                hint="Short labels such as m1 m2 m3, split by blanks; never names. A label that is taken out here leaves the recorded days too."
              />
            </div>
            {members.length > 0 && (
              <fieldset class="bare" id="going">
                <legend>Who goes on this trip</legend>
                <NowStored id="going" fault={fault} />
                <p class="hint">Nobody ticked: all of them.</p>
                <div class="ticks-row">
                  {members.map((label) => (
                    <Tick name="going" value={label} checked={going.includes(label)}>
                      {label}
                    </Tick>
                  ))}
                </div>
              </fieldset>
            )}
          </fieldset>
          <fieldset>
            <legend>What they are at ease with</legend>
            <div class="fields">
              <Input {...at('comfortClass')} hint="such as 1, 2+ or 3" />
              <Select
                {...at('aim')}
                options={[
                  ['', 'not stated: comfortable'],
                  ['comfort', 'comfortable'],
                  ['challenge', 'a challenge'],
                ]}
              />
              <Input {...at('sleep')} type="number" step="any" />
              <Select
                {...at('altitudeHistory')}
                options={[
                  NOT_STATED,
                  ['none', 'none'],
                  ['mild', 'mild'],
                  ['severe', 'severe'],
                  ['hapeHace', 'lung or brain oedema'],
                ]}
              />
            </div>
          </fieldset>
          <fieldset>
            <legend>The day</legend>
            <div class="fields">
              <Input {...at('earliestStart')} type="time" />
              <Input
                {...at('deadline')}
                hint="left empty: noon, or an hour before the sun is highest"
                type="time"
              />
              <Select
                {...at('headlamps')}
                options={[NOT_STATED, ['true', 'everyone has one'], ['false', 'not everyone']]}
              />
            </div>
          </fieldset>
          <fieldset>
            <legend>The drive</legend>
            <div class="fields">
              <Input {...at('homeName')} hint="a public place, never a dwelling" maxLength={200} />
              <Input {...at('homeLat')} hint="kept to 0.01°" type="number" step="any" />
              <Input {...at('homeLon')} hint="west is minus" type="number" step="any" />
              <Input {...at('drive')} type="number" min={0} step="any" />
              <Input {...at('driveMin')} type="number" min={0} step="any" />
            </div>
            <p class="label">Vehicles</p>
            {Array.from({ length: vehicles }, (_, i) => i + 1).map((n) => (
              <div class="fields">
                <Input {...at(`seats${n}`)} type="number" min={1} step={1} />
                <Select {...at(`clearance${n}`)} options={CLEARANCES} />
              </div>
            ))}
          </fieldset>
          <p class="row">
            <button type="submit" class="main">
              Store
            </button>
            <a class="button" href={frame.to(stored === null ? '/' : `/cohorts/${stored.id}`)}>
              Back without a change
            </a>
          </p>
        </form>
        {stored !== null && (
          <>
            <p class="quiet">
              Its data are erased after {stored.eraseAfter}; a later trip moves that day.{' '}
              <a href={frame.to(`/v1/cohorts/${stored.id}/export`)}>All that is kept of it</a>.
            </p>
            <details>
              <summary>Erase this cohort</summary>
              <form method="post" action={frame.to(`/cohorts/${stored.id}/delete`)}>
                <p>
                  Every trace of it and of its days goes at once. Copies and backups of the database outlive
                  this.
                </p>
                <button type="submit">Erase {stored.name}</button>
              </form>
            </details>
          </>
        )}
      </>
    ),
  });
}
