/** A trip plan and a training plan as the API answers them. */

import Type from 'typebox';
import { MOST_KNOWN } from '../app/plans.ts';
import { PAGE_KEYS } from '../document/plan-document.ts';
import { CRITERION_NAMES } from '../rank/criterion.ts';
import { VERDICTS } from '../rank/verdict.ts';
import {
  attribution,
  closed,
  instant,
  number,
  numberOrNull,
  oneOf,
  open,
  orNull,
  ref,
  text,
} from './schema-parts.ts';

const boolean = Type.Boolean();
const verdict = oneOf(VERDICTS);
const way = oneOf(['back', 'onward']);
const usualAndLateMin = { p50Min: number, p90Min: number };

const place = {
  kind: oneOf([
    ...['trailhead', 'treelineUp', 'high', 'treelineDown', 'end'],
    ...['waypoint', 'bend', 'shoulder', 'onTheWay'],
  ]),
  name: Type.String({ description: 'as in the file; empty where it has none' }),
  distanceM: number,
  elevationM: numberOrNull,
  lat: number,
  lon: number,
  goingUp: boolean,
  aboveTreeline: orNull(boolean),
};

const stormWindow = closed({
  deadline: instant,
  usualDeadline: instant,
  start: instant,
  earliestStart: instant,
  latestStart: orNull(instant),
  probabilityBelowTreelineByDeadline: numberOrNull,
  shortByMin: numberOrNull,
  backFromTopBy: orNull(instant),
  firstToLeave: orNull(closed({ distanceM: number, by: instant })),
  farthestFromTreeline: orNull(closed({ distanceM: number, way, ...usualAndLateMin })),
});

const daylight = closed({
  civilDawn: orNull(instant),
  sunrise: orNull(instant),
  sunset: orNull(instant),
  civilDusk: orNull(instant),
  polar: orNull(oneOf(['day', 'night'])),
  headlampP50Min: number,
  headlampP90Min: number,
  endsNearDark: boolean,
});

const drive = closed({
  roadKm: numberOrNull,
  roadMin: numberOrNull,
  kmEstimated: boolean,
  minEstimated: boolean,
  depart: orNull(instant),
  home: orNull(closed({ p50: instant, p90: instant })),
  sleepH: numberOrNull,
  leastSleepH: number,
  tooLittleSleep: boolean,
});

const kitItem = closed({
  system: text,
  what: text,
  why: text,
  who: oneOf(['each', 'group', 'adult']),
  count: Type.Integer(),
});

const lightning = closed(
  {
    region: text,
    month: Type.Integer(),
    clock: text,
    utcOffsetHours: number,
    highestHour: number,
    hours: Type.Array(closed({ hour: number, shareOfHighest: number })),
    source: text,
    caveats: Type.Array(text),
  },
  'how lightning is spread over the hours in a region; never a forecast',
);

const page = closed({
  title: text,
  reader: oneOf(['leaders', 'participants', 'office']),
  sections: Type.Array(
    closed({
      heading: text,
      lines: Type.Array(closed({ text, source: orNull(text) })),
      table: orNull(
        closed({
          columns: Type.Array(text),
          rows: Type.Array(Type.Array(text)),
          marked: Type.Array(Type.Integer()),
        }),
      ),
      ticks: Type.Array(text),
      blanks: Type.Array(text),
    }),
  ),
});

const trainingRoute = closed({
  name: text,
  distanceM: number,
  gainM: number,
  times: Type.Integer(),
  addDistanceM: number,
  addGainM: number,
  verdict,
  text,
});

const step = closed({
  date: text,
  daysBeforeTrip: Type.Integer(),
  kind: oneOf(['assessment', 'step', 'distanceDay', 'gainDay', 'bothDay', 'classDay']),
  distanceM: number,
  gainM: number,
  mostDistanceM: number,
  mostGainM: number,
  rockClass: orNull(text),
  isAssumption: boolean,
  text,
  why: text,
  routes: Type.Array(trainingRoute),
  repeats: orNull(trainingRoute),
  stair: closed({ heightM: number, times: Type.Integer(), text }),
});

const KNOWN = `the stored routes that were looked through are those of the ${MOST_KNOWN} trailheads nearest to the meeting place (without one: to this route’s trailhead)`;

export const trainingPlan = closed(
  {
    state: oneOf(['ready', 'train', 'tooShort', 'past', 'unknown']),
    today: text,
    tripDate: text,
    target: orNull(
      closed({
        distanceM: number,
        gainM: number,
        effortKj: number,
        gainDoubt: number,
        highM: numberOrNull,
        rockClass: orNull(text),
      }),
    ),
    milestones: Type.Array(
      closed({
        name: oneOf(['distanceDay', 'gainDay', 'bothDay']),
        state: oneOf(['done', 'again', 'planned', 'notNeeded']),
        date: orNull(text),
        by: orNull(text),
        text,
      }),
    ),
    steps: Type.Array(step),
    leadsTo: orNull(text),
    shortByDays: orNull(Type.Integer()),
    after: orNull(
      closed({
        verdict,
        inTheWay: Type.Array(closed({ criterion: oneOf(CRITERION_NAMES), verdict, reason: text })),
      }),
    ),
    text,
    notes: Type.Array(text),
    attribution,
  },
  `the training that turns the route into one that fits; ${KNOWN}`,
);

const left = Type.Array(closed({ criterion: oneOf(CRITERION_NAMES), reason: text }));

export const ladder = closed(
  {
    state: oneOf(['ready', 'ladder', 'none', 'past', 'unknown']),
    target: text,
    today: text,
    tripDate: text,
    rungs: Type.Array(
      closed({
        date: text,
        name: text,
        distanceM: number,
        gainM: number,
        rockClass: orNull(text),
        verdict,
      }),
    ),
    missing: left,
    inTheWay: left,
    text,
    attribution,
  },
  `the shortest sequence of known routes that leads to the target; ${KNOWN}`,
);

export const tripPlan = closed(
  {
    cohort: closed({ id: text, name: text }),
    date: text,
    method: closed({ version: text, settings: text }),
    fit: ref('FitEntry'),
    paceFrom: closed({ clockedOutings: Type.Integer(), stopsMinPerHour: number, checkedOn: text }),
    timeline: orNull(Type.Array(closed({ ...place, at: ref('Moment') }))),
    cutOffTimes: orNull(
      Type.Array(
        closed({
          ...place,
          at: instant,
          reason: oneOf(['storm', 'daylight']),
          storm: orNull(instant),
          daylight: orNull(instant),
          cannotBeMet: boolean,
        }),
      ),
    ),
    retreatTimes: orNull(Type.Array(closed({ ...place, at: instant, way: orNull(way) }))),
    stormWindow: orNull(stormWindow),
    daylight: orNull(daylight),
    drive: orNull(drive),
    supplies: orNull(
      open('water (L), food (kcal, kg) and packs (kg) of the late day, with what they rest on'),
    ),
    kit: orNull(Type.Array(kitItem)),
    routeCard: orNull(
      closed({
        legs: Type.Array(
          open('a leg between two checkpoints: bearings, lengths (m), climb and drop (m), minutes, hazards'),
        ),
        declination: orNull(open('at the trailhead: degrees, doubt, model and until when it holds')),
        cautions: Type.Array(text),
      }),
    ),
    trainingPlan: ref('TrainingPlan'),
    lightning: orNull(lightning),
    lowerChoice: orNull(
      closed({ name: text, distanceM: number, gainM: numberOrNull, verdict: orNull(verdict) }),
    ),
    spareDate: orNull(closed({ date: text, isSuggestion: boolean })),
    pages: Type.Array(closed({ key: oneOf(PAGE_KEYS), page })),
    meaning: text,
    cautions: Type.Array(text),
    attribution,
  },
  `the chosen route as a day; null: the heights under its line are not all known. For the lower choice and for training ${KNOWN}`,
);
