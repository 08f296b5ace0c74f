import type { StoredRoute } from '../../storage/routes.ts';
import { heightText, lengthText, percentText, stepText } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { CLEARANCES } from '../field.tsx';
import {
  AMOUNT,
  COUNT,
  choices,
  FIGURE,
  type FormField,
  type FormRows,
  type FormTable,
  FROM_ONE,
  heightUnit,
  LINE,
  roadUnit,
} from '../form-table.ts';

/** Closures that the form has room for beside those there are (design). */
const SPARE_ROWS = 2;

const SURFACES = choices({ trail: 'trail', rough: 'rough', talus: 'talus', snow: 'snow' });
const OPEN_GROUND = choices({ none: 'none', some: 'some' });
const OPEN_HINT = 'rock, burnt or grazed tops, moor';
const ROADS = [['', 'not stated'], ...CLEARANCES] as const;
const PICK_UP = 'who brings the group back to its start, and when';
const LONG = { maxLength: 4000 };

const monthDay = (example: string): Pick<FormField, 'hint' | 'input'> => ({
  hint: `such as ${example}`,
  input: {
    pattern: '(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])',
    title: `a month and a day such as ${example}`,
  },
});

function hintsOf({ route }: StoredRoute, units: UnitSystem) {
  const { measures, treeline } = route;
  const steep = measures.steepestSustainedRatio;
  const degrees = steep === null ? 0 : Math.round((Math.atan(steep) * 180) / Math.PI);
  const above = measures.aboveTreelineM;
  return {
    rockClass:
      steep === null
        ? 'such as 1, 2+ or 3; not known from terrain'
        : `such as 1, 2+ or 3. The steepest ${stepText(200, units)} of the line rise at ${percentText(steep)} (${degrees}°); what the hands have to do, the terrain cannot say.`,
    surface:
      above === null || above === 0
        ? 'not stated: trail for class 1'
        : `not stated: trail for class 1, else rough above treeline; ${lengthText(above, units)} of this line lie above it`,
    treeline:
      route.attributes.treelineM != null
        ? 'stated here; left empty, the program’s or the region’s is used'
        : treeline.treelineM === null
          ? `not known here: ${treeline.text}`
          : `left empty: ${heightText(treeline.treelineM, units)} is used, ${treeline.text}`,
  };
}

export function routeForm(stored: StoredRoute, units: UnitSystem) {
  const hints = hintsOf(stored, units);
  const height = { unit: heightUnit(units), input: FIGURE };
  const length = { unit: roadUnit(units), input: AMOUNT };
  const ground: readonly FormField[] = [
    { id: 'name', label: 'Name', input: LINE },
    {
      id: 'rockClass',
      label: 'Rock class of the hardest move',
      hint: hints.rockClass,
      input: { list: 'classes' },
    },
    { id: 'surface', label: 'Surface', hint: hints.surface, options: SURFACES },
    { id: 'scramble', label: 'Needs hands, there and back', hint: '0: none', at: '/scrambleM', ...height },
    { id: 'treeline', label: 'Treeline', hint: hints.treeline, at: '/treelineM', ...height },
    { id: 'openGround', label: 'Open ground below treeline', hint: OPEN_HINT, options: OPEN_GROUND },
    { id: 'openAbove', label: 'Open above', hint: 'its height', at: '/openAboveM', ...height },
  ];
  const road: readonly FormField[] = [
    { id: 'timeZone', label: 'Time zone', hint: 'such as America/Denver', input: LINE },
    { id: 'trailhead', label: 'Name of the trailhead', at: '/trailhead/name', input: LINE },
    { id: 'roadClearance', label: 'The road needs', at: '/trailhead/roadClearance', options: ROADS },
    { id: 'road', label: 'Road from the meeting place', at: '/trailhead/roadKm', ...length },
    { id: 'roadMin', label: 'Drive, minutes', at: '/trailhead/roadMin', input: AMOUNT },
    { id: 'roadStatus', label: 'State of the road', at: '/trailhead/roadStatus', input: LINE },
    { id: 'parkingSpaces', label: 'Parking spaces', at: '/trailhead/parkingSpaces', input: COUNT },
    { id: 'pickUp', label: 'Pick-up at the end of a one-way walk', hint: PICK_UP, input: LINE },
  ];
  const rules: readonly FormField[] = [
    { id: 'groupSizeLimit', label: 'Largest party, leaders counted', input: FROM_ONE },
    { id: 'permitWho', label: 'Permit from', at: '/permit/who', input: LINE },
    { id: 'partiesPerDay', label: 'Parties a day by permit', at: '/permit/partiesPerDay', input: COUNT },
    { id: 'seasonFrom', label: 'Season from, month-day', at: '/season/from', ...monthDay('06-15') },
    { id: 'seasonTo', label: 'Season to, month-day', at: '/season/to', ...monthDay('10-01') },
  ];
  const closures: FormRows = {
    at: '/closures',
    count: (stored.route.attributes.closures?.length ?? 0) + SPARE_ROWS,
    row: (n) => [
      { id: `closure${n}From`, label: `Closure ${n} from`, at: '/from' },
      // Of a row as a whole: its days do not go together.
      { id: `closure${n}To`, label: `Closure ${n} to`, at: '/to', covers: [''] },
      { id: `closure${n}Reason`, label: `Closure ${n} why`, at: '/reason', input: LONG },
    ],
  };
  const notes: FormField = { id: 'notes', label: 'Notes, shown on the plan', isLong: true, input: LONG };
  const table: FormTable = [...ground, ...road, ...rules, notes, closures];
  return { ground, road, rules, closures, notes, table };
}
