/** @jsxRuntime automatic @jsxImportSource preact */
import { CLEARANCES, FaultNote, type FormFault, Input, Select, Tick } from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';
import type { FormValues } from './route-form.tsx';

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

const NOT_STATED = ['', 'not stated'] as const;

/** A cohort to make or to change. */
export function cohortFormPage(view: CohortFormView, frame: PageFrame): string {
  const { stored, values, members, going, vehicles, fault } = view;
  const of = (field: string): string => values[field] ?? '';
  const isUs = frame.units === 'us';
  const path = stored === null ? '/cohorts/new' : `/cohorts/${stored.id}/edit`;
  return pageHtml({
    title: stored === null ? 'Make a cohort' : `Change ${stored.name}`,
    frame,
    section: 'cohorts',
    way: [
      { name: 'Cohorts', path: '/' },
      ...(stored === null ? [] : [{ name: stored.name, path: `/cohorts/${stored.id}` }]),
    ],
    children: (
      <>
        <FaultNote fault={fault} />
        <p>
          A name and the number of participants are enough to begin with. What is missing is asked for, never
          taken to be fine.
        </p>
        <form method="post" action={frame.to(path)}>
          {stored !== null && <input type="hidden" name="revision" value={stored.revision} />}
          <fieldset>
            <legend>Who</legend>
            <div class="fields">
              <Input id="name" label="Name" value={of('name')} required maxLength={200} fault={fault} />
              <Input
                id="participants"
                label="Participants"
                hint="leaders not counted"
                type="number"
                min={1}
                step={1}
                value={of('participants')}
                required
                fault={fault}
              />
              <Input
                id="leaders"
                label="Leaders"
                type="number"
                min={0}
                step={1}
                value={of('leaders')}
                fault={fault}
              />
              <Select
                id="ageBand"
                label="Age band"
                value={of('ageBand')}
                fault={fault}
                options={[
                  NOT_STATED,
                  ['8-11', '8 to 11'],
                  ['12-14', '12 to 14'],
                  ['15-17', '15 to 17'],
                  ['adult', 'adults'],
                ]}
              />
              <Input
                id="members"
                label="Labels of participants"
                class="wide"
                hint="Short labels such as m1 m2 m3, split by blanks; never names. A label that is taken out here leaves the recorded days too."
                value={of('members')}
                fault={fault}
              />
            </div>
            {members.length > 0 && (
              <fieldset class="bare">
                <legend>Who goes on this trip</legend>
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
              <Input
                id="comfortClass"
                label="Hardest rock class in comfort"
                hint="such as 1, 2+ or 3"
                value={of('comfortClass')}
                fault={fault}
              />
              <Select
                id="aim"
                label="The day should be"
                value={of('aim')}
                fault={fault}
                options={[
                  ['', 'not stated: comfortable'],
                  ['comfort', 'comfortable'],
                  ['challenge', 'a challenge'],
                ]}
              />
              <Input
                id="sleep"
                label={`Height of the night before, ${isUs ? 'feet' : 'metres'}`}
                type="number"
                step="any"
                value={of('sleep')}
                fault={fault}
              />
              <Select
                id="altitudeHistory"
                label="Altitude illness before, the worst of anyone"
                value={of('altitudeHistory')}
                fault={fault}
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
              <Input
                id="earliestStart"
                label="Earliest start"
                type="time"
                value={of('earliestStart')}
                fault={fault}
              />
              <Input
                id="deadline"
                label="Below treeline by"
                hint="left empty: noon, or an hour before the sun is highest"
                type="time"
                value={of('deadline')}
                fault={fault}
              />
              <Select
                id="headlamps"
                label="Headlamps"
                value={of('headlamps')}
                fault={fault}
                options={[NOT_STATED, ['true', 'everyone has one'], ['false', 'not everyone']]}
              />
            </div>
          </fieldset>
          <fieldset>
            <legend>The drive</legend>
            <div class="fields">
              <Input
                id="homeName"
                label="Meeting place"
                hint="a public place, never a dwelling"
                value={of('homeName')}
                maxLength={200}
                fault={fault}
              />
              <Input
                id="homeLat"
                label="Its latitude"
                hint="kept to 0.01°"
                type="number"
                step="any"
                value={of('homeLat')}
                fault={fault}
              />
              <Input
                id="homeLon"
                label="Its longitude"
                hint="west is minus"
                type="number"
                step="any"
                value={of('homeLon')}
                fault={fault}
              />
              <Input
                id="drive"
                label={`Longest drive, ${isUs ? 'miles' : 'km'}`}
                type="number"
                min={0}
                step="any"
                value={of('drive')}
                fault={fault}
              />
              <Input
                id="driveMin"
                label="Longest drive, minutes"
                type="number"
                min={0}
                step="any"
                value={of('driveMin')}
                fault={fault}
              />
            </div>
            <p class="label">Vehicles</p>
            {Array.from({ length: vehicles }, (_, i) => i + 1).map((n) => (
              <div class="fields">
                <Input
                  id={`seats${n}`}
                  label={`Vehicle ${n}: seats`}
                  type="number"
                  min={1}
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
