import { DESIGN } from '../../src/design.ts';
import { emergencyPage } from '../../src/document/emergency-page.ts';
import { goNoGo } from '../../src/document/go-no-go.ts';
import { kitLines } from '../../src/document/kit-text.ts';
import { SOURCES_NOTE } from '../../src/document/make-document.ts';
import { officePage } from '../../src/document/office-page.ts';
import { participantPage } from '../../src/document/participant-page.ts';
import { type PeoplePage, section } from '../../src/document/people-page.ts';
import { allCautions } from '../../src/document/plan-cautions.ts';
import type { PlanDocument } from '../../src/document/plan-document.ts';
import type { PlanFacts } from '../../src/document/plan-facts.ts';
import type { ProfileDrawing } from '../../src/drawing/profile/profile-drawing.ts';
import { kit } from '../../src/plan/kit.ts';
import { DAY } from '../document/day-facts.ts';

const TITLE = 'Trip plan · Grey Horn by the Long Shelf · 2026-07-11';

const KIT = kitLines(
  kit(
    {
      party: { participants: 9, leaders: 2, ageBand: '12-14' },
      rockClass: '2+',
      surface: 'rough',
      dayMin: { p10: 400, p50: 450, p90: 505 },
      headlampMin: { p50: 40, p90: 85 },
      highM: 1950,
      trailheadM: 1010,
      aboveTreelineMin: 210,
      steep30to50: true,
      date: '2026-07-15',
      lowM: 1010,
      latDeg: 46.1,
    },
    DESIGN,
  ),
  'metric',
  DESIGN,
);

/** The sample day with texts as long as a real one has. */
export const FULL_DAY: PlanFacts = {
  ...DAY,
  routeName: 'Grey Horn by the Long Shelf',
  checkpoints: DAY.checkpoints.map((checkpoint) => ({
    ...checkpoint,
    wayOut:
      checkpoint.wayOut === null
        ? null
        : { ...checkpoint.wayOut, text: 'back the way you came to the start, Mill Bridge' },
  })),
  kit: KIT.filter(({ who }) => who === 'each').map(({ what }) => what),
  trainingSteps: [
    'By 13 June: a walk of at least 6.5 km with 500 m up, at an easy pace.',
    'By 20 June: a day of at least 7.8 km with 650 m up.',
    'By 27 June: a day of at least 9.4 km.',
    'By 4 July: a day with at least 860 m up, stairs or a hill again and again will do.',
  ],
};

/** All that a participants' page may have to say at once. */
export const LONGEST_DAY: PlanFacts = {
  ...FULL_DAY,
  verdict: 'notYet',
  rockClass: '2+',
  classInDoubt: 3,
  home: { p10Ms: DAY.back.p10Ms, p50Ms: DAY.back.p50Ms, p90Ms: DAY.back.p90Ms },
  kit: [
    ...FULL_DAY.kit,
    'Second warm layer, thick and dry, and spare gloves',
    'Helmet, fitted before the day',
    'Gaiters, and boots that keep snow out',
  ],
};

/** As many places as a long day has, each with a long way out. */
export const MANY_PLACES: PlanFacts = {
  ...FULL_DAY,
  checkpoints: FULL_DAY.checkpoints.slice(0, 5).flatMap((checkpoint, i) =>
    [0, 1].map((half) => ({
      ...checkpoint,
      name: `${checkpoint.name}, place ${2 * i + half}`,
      distanceM: checkpoint.distanceM + 100 * half,
      latDeg: 46.1 + (2 * i + half) / 1000,
      wayOut: {
        text: 'back the way you came; or “Bench pool” begins 1.9 km off at 139° true',
        minutes: { p50: 75 + i, p90: 110 + i },
        distanceM: 1000 + i * 800,
      },
    })),
  ),
};

const PLACES = ['start', 'treeline, up', 'lake below the shelf', 'top', 'treeline, down', 'end'];

/** Up over two steps and down again, with a hole in the data on the way down. */
const heightAt = (distanceM: number): number | null => {
  if (distanceM > 7900 && distanceM < 8200) return null;
  const along = distanceM <= 4700 ? distanceM / 4700 : (9400 - distanceM) / 4700;
  return 1010 + 940 * along + 45 * Math.sin(along * 9) * (1 - along);
};

export const PROFILE: ProfileDrawing = {
  units: 'metric',
  points: Array.from({ length: 941 }, (_, i) => [i * 10, heightAt(i * 10)] as const),
  treelineM: 1500,
  marks: [
    { distanceM: 0, heightM: 1010, name: 'start', times: '05:00', by: null },
    { distanceM: 2600, heightM: 1500, name: 'treeline, up', times: '06:50 (06:30–07:10)', by: 'by 07:42' },
    {
      distanceM: 3400,
      heightM: null,
      name: 'lake below the shelf',
      times: '07:35 (07:10–08:02)',
      by: 'by 08:31',
    },
    { distanceM: 4700, heightM: 1950, name: 'top', times: '08:50 (08:10–09:30)', by: 'by 10:05' },
    { distanceM: 6800, heightM: 1500, name: 'treeline, down', times: '10:20 (09:40–11:10)', by: null },
    { distanceM: 9400, heightM: 1010, name: 'end', times: '12:30 (11:40–13:25)', by: null },
  ],
  text: 'Grey Horn by the Long Shelf on 2026-07-11: 9.4 km, highest point 1,950 m.',
};

const dayTable = {
  columns: [
    'Place',
    'From start',
    'Height',
    'Early',
    'Middle',
    'Late',
    'Turn back if not here by',
    'Start down from here by',
  ],
  rows: PLACES.map((place, i) => [
    place,
    `${(i * 1.88).toFixed(1)} km`,
    '1,500 m',
    '08:10',
    '08:50',
    '09:30',
    i > 0 && i < 4 ? '09:49' : '–',
    i === 3 ? '10:05' : '–',
  ]),
  marked: [3],
};

const LEADERS: PeoplePage = {
  title: TITLE,
  reader: 'leaders',
  sections: [
    section('In short', {
      lines: [
        'Marram Seniors: 9 participants, 2 leaders.',
        'Verdict: stretch. It goes a little beyond what everyone has shown; it says nothing on the weather of the day.',
        'Start walking 05:00.',
        'Turn round by 10:05 at the latest, wherever you are.',
        'Below treeline by 12:00: 97 % likely from this start.',
        'Back at 12:30, late 13:25.',
        'Water: 3.2 L each.',
      ],
    }),
    section('The day', {
      lines: [
        'Early, middle, late: one day in ten is earlier than early, one in ten later than late. Stops are counted.',
      ],
      table: dayTable,
    }),
    section('How it fits', {
      table: {
        columns: ['Question', 'Verdict', 'Why'],
        rows: ['Distance', 'Climb', 'Work of the day', 'Class', 'Time above treeline', 'Drive'].map(
          (question, i) => [
            question,
            i === 1 ? 'stretch' : 'fits',
            'The longest day that everyone has shown within the year is 8.9 km; this route is 6 % beyond it.',
          ],
        ),
        marked: [1],
      },
      ticks: ['Check: the road to Mill Bridge is open', 'Check: a permit for 11 people'],
    }),
    section('Kit', {
      lines: ['Who carries what is shared: write it in.'],
      table: {
        columns: ['What', 'How many', 'Carried by', 'What this day asks', 'Name or label'],
        rows: KIT.map(({ what, count, who, why }) => [what, `${count}`, who, why, who === 'each' ? '–' : '']),
        marked: [],
      },
    }),
    section('Packs', { lines: KIT.map(({ what, why }) => `${what}: ${why}`) }),
    section('Cautions', { lines: allCautions(DAY.party, 'metric', DESIGN) }),
  ],
};

const ROUTE_CARD: PeoplePage = {
  title: 'Route card: Grey Horn by the Long Shelf, 2026-07-11',
  reader: 'leaders',
  sections: [
    section('Route card: legs', {
      lines: ['Declination 9.3° west, give or take 0.4°. Magnetic bearings have it taken off already.'],
      table: {
        columns: [
          'From',
          'To',
          'True',
          'Magnetic',
          'Straight',
          'Along',
          'Up',
          'Down',
          'Usual time',
          'Slow time',
          'Watch for',
        ],
        rows: PLACES.slice(1).map((place, i) => [
          PLACES[i] ?? '',
          place,
          '024°',
          '033°',
          '1.6 km',
          '2.1 km',
          '490 m',
          '10 m',
          '1 h 50 min',
          '2 h 10 min',
          i === 2
            ? 'winds: follow the path, not the bearing; ground of 30 to 50° for 420 m; above treeline'
            : '',
        ]),
        marked: [2],
      },
    }),
    section('Route card: places', {
      table: {
        columns: ['Place', 'Height', 'Grid', 'Degrees', 'Way out'],
        rows: PLACES.map((place) => [
          place,
          '1,500 m',
          '26T LS 1234 5678',
          '46.10510 N, 30.20340 W',
          'back the way you came to the start, Mill Bridge, 2.6 km',
        ]),
        marked: [],
      },
    }),
  ],
};

const TRAINING: PeoplePage = {
  title: 'Training for Grey Horn by the Long Shelf',
  reader: 'leaders',
  sections: [
    section('In short', {
      lines: ['4 outings from 2026-06-13 to 2026-07-04, the last 7 days before the trip.'],
    }),
    section('Steps', {
      lines: ['Record each day when it is done: the steps after it are worked out again.'],
      table: {
        columns: ['Date', 'What', 'Why', 'Where it can be done', 'Done'],
        rows: Array.from({ length: 9 }, (_, i) => [
          `2026-06-${String(i + 10)}`,
          'At least 7.8 km with 650 m up, by everyone who goes',
          'Half of the way from the longest day shown, 6.2 km, to the day of the route',
          'Sandy Loop (8.1 km, 660 m up, 25 min away); or Mill Stairs, 14 times up',
          '',
        ]),
        marked: [8],
      },
    }),
  ],
};

/** A plan of all seven pages, as long as a real one. */
export const PLAN: PlanDocument = {
  title: TITLE,
  measures: '9.4 km (5.8 mi), 940 m (3,100 ft) up, highest point 1,950 m (6,398 ft)',
  pages: [
    { key: 'leaders', page: LEADERS },
    { key: 'routeCard', page: ROUTE_CARD },
    { key: 'morning', page: goNoGo(FULL_DAY, 'metric', DESIGN) },
    { key: 'emergency', page: emergencyPage(FULL_DAY, 'metric', DESIGN) },
    { key: 'participants', page: participantPage(FULL_DAY, 'metric', DESIGN) },
    { key: 'office', page: officePage(FULL_DAY, 'metric', DESIGN) },
    { key: 'training', page: TRAINING },
  ],
  profile: PROFILE,
  foot: `Estimates from terrain data and past days; the leader on the spot decides. Not for navigation. ${SOURCES_NOTE} Worked out by method 1 with version 1 of the settings.`,
};
