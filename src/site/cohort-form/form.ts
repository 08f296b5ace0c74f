import type { Cohort } from '../../storage/cohorts.ts';
import type { UnitSystem } from '../../units.ts';
import { vehicleRow } from '../field.tsx';
import {
  AMOUNT,
  COUNT,
  choices,
  FIGURE,
  type FormField,
  type FormRows,
  FROM_ONE,
  heightUnit,
  LINE,
  recordOf,
  roadUnit,
  TIME,
} from '../form-table.ts';

/** Rows of vehicles beside those there are (design). */
const SPARE_VEHICLES = 2;

const HINTS = {
  members:
    'Short labels such as m1 m2 m3, split by blanks; never names. A label that is taken out here leaves the recorded days too.',
  deadline: 'left empty: noon, or an hour before the sun is highest',
  homeName: 'a public place, never a dwelling',
};
const AGE_BANDS = choices({ '8-11': '8 to 11', '12-14': '12 to 14', '15-17': '15 to 17', adult: 'adults' });
const AIMS = choices({ comfort: 'comfortable', challenge: 'a challenge' }, 'not stated: comfortable');
const ILLNESS = choices({ none: 'none', mild: 'mild', severe: 'severe', hapeHace: 'lung or brain oedema' });
const AGREED = choices({ true: 'the program has agreed', false: 'no' }, 'not stated: no');
const HEADLAMPS = choices({ true: 'everyone has one', false: 'not everyone' });

/** The form of a cohort by the parts of its page; `cohort` `null`: a new one. */
export function cohortForm(cohort: Cohort | null, units: UnitSystem) {
  const height = { unit: heightUnit(units), input: FIGURE };
  const road = { unit: roadUnit(units), input: AMOUNT };
  const many = { ...FROM_ONE, required: true };
  const who: readonly FormField[] = [
    { id: 'name', label: 'Name', input: { ...LINE, required: true } },
    { id: 'participants', label: 'Participants', hint: 'leaders not counted', input: many },
    { id: 'leaders', label: 'Leaders', input: COUNT },
    { id: 'ageBand', label: 'Age band', options: AGE_BANDS },
    { id: 'members', label: 'Labels of participants', class: 'wide', hint: HINTS.members, holds: 'words' },
  ];
  const ease: readonly FormField[] = [
    { id: 'comfortClass', label: 'Hardest rock class in comfort', hint: 'such as 1, 2+ or 3' },
    {
      id: 'class3Agreed',
      label: 'Class 3 with minors',
      hint: 'only where the program says so for this group',
      options: AGREED,
      holds: 'yesNo',
    },
    { id: 'aim', label: 'The day should be', options: AIMS },
    { id: 'sleep', label: 'Height of the night before', at: '/sleepElevationM', ...height },
    { id: 'altitudeHistory', label: 'Altitude illness before, the worst of anyone', options: ILLNESS },
  ];
  const day: readonly FormField[] = [
    { id: 'earliestStart', label: 'Earliest start', input: TIME },
    { id: 'deadline', label: 'Below treeline by', hint: HINTS.deadline, input: TIME },
    { id: 'headlamps', label: 'Headlamps', options: HEADLAMPS, holds: 'yesNo' },
  ];
  const drive: readonly FormField[] = [
    { id: 'homeName', label: 'Meeting place', hint: HINTS.homeName, at: '/home/name', input: LINE },
    { id: 'homeLat', label: 'Its latitude', hint: 'kept to 0.01°', at: '/home/lat', input: FIGURE },
    { id: 'homeLon', label: 'Its longitude', hint: 'west is minus', at: '/home/lon', input: FIGURE },
    { id: 'drive', label: 'Longest drive', at: '/driveLimit/km', ...road },
    { id: 'driveMin', label: 'Longest drive, minutes', at: '/driveLimit/minutes', input: AMOUNT },
  ];
  const vehicles: FormRows = {
    at: '/vehicles',
    count: (cohort?.vehicles?.length ?? 0) + SPARE_VEHICLES,
    row: (n) => vehicleRow(n),
  };
  const going: FormField = { id: 'going', label: 'Who goes on this trip', holds: 'words' };
  const table = [...who, ...ease, ...day, ...drive, going, vehicles];
  // Boxes to tick have no place for a fault.
  const fieldsOf = (pointer: string) => (pointer.startsWith('/going') ? ['members'] : null);
  return { who, ease, day, drive, vehicles, table, fieldsOf };
}

/** The cohort that a form describes; what the form does not show stays as it is. */
export function cohortOf(form: URLSearchParams, stored: Cohort | null, units: UnitSystem): unknown {
  const said = recordOf(cohortForm(stored, units).table, form, stored);
  const { members, going } = said as { members: readonly string[] | null; going: readonly string[] | null };
  const known = (going ?? []).filter((label) => members?.includes(label));
  return { ...stored, ...said, going: known.length === 0 ? null : known };
}
