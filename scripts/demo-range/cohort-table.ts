import type { LinePlan } from './route-plan.ts';

/** An outing of a demo cohort: walked on the demo's ground with a clock, or written down by hand. */
export interface TrackOuting {
  readonly kind: 'track';
  readonly date: string;
  /** File name below `walks/`, without its ending. */
  readonly walk: string;
  readonly name: string;
  /** The file name of the route that was walked, or a line of its own. */
  readonly line: string | LinePlan;
  /** `06:40` at the place, UTC-2. */
  readonly startClock: string;
  readonly rockClass: string;
  readonly members: readonly string[] | null;
}

interface HandOuting {
  readonly kind: 'hand';
  readonly date: string;
  readonly distanceM: number;
  readonly gainM: number;
  readonly movingMin: number;
  readonly maxElevationM: number;
  readonly rockClass: string;
  readonly members: readonly string[] | null;
}

export interface CohortPlan {
  readonly file: string;
  readonly name: string;
  readonly participants: number;
  readonly leaders: number;
  readonly ageBand: '12-14' | '15-17' | 'adult';
  readonly members: readonly string[] | null;
  readonly home: { readonly name: string; readonly eastKm: number; readonly southKm: number };
  readonly driveLimitKm: number;
  readonly vehicles: readonly { readonly seats: number; readonly clearance: 'any' | 'high' | 'fourWheel' }[];
  readonly comfortClass: string;
  readonly sleepElevationM: number;
  readonly earliestStart: string;
  readonly aim: 'comfort' | 'challenge';
  /** Share of the trade rule's time that the group takes on its clocked walks. */
  readonly paceFactor: number;
  readonly outings: readonly (TrackOuting | HandOuting)[];
}

const labels = (count: number): readonly string[] => Array.from({ length: count }, (_, k) => `m${k + 1}`);

const JUNIORS = labels(9);
const SENIORS = labels(8);

/** The three cohorts of the Corvanney Outdoor School. People, places and days are invented. */
export const COHORTS: readonly CohortPlan[] = [
  {
    file: 'cranny-juniors',
    name: 'Cranny Juniors',
    participants: 9,
    leaders: 2,
    ageBand: '12-14',
    members: JUNIORS,
    home: { name: 'Cranny Harbour green', eastKm: 6.4, southKm: 5.3 },
    driveLimitKm: 40,
    vehicles: [{ seats: 12, clearance: 'any' }],
    comfortClass: '2',
    sleepElevationM: 60,
    earliestStart: '04:30',
    aim: 'comfort',
    paceFactor: 1.02,
    outings: [
      {
        kind: 'hand',
        date: '2026-06-13',
        distanceM: 6600,
        gainM: 420,
        movingMin: 205,
        maxElevationM: 455,
        rockClass: '1',
        members: JUNIORS.filter((label) => label !== 'm4'),
      },
      {
        kind: 'track',
        date: '2026-06-28',
        walk: 'juniors-long-moor',
        name: 'Long Moor',
        line: {
          shape: 'outAndBack',
          steadyGrade: 0.13,
          stops: [
            { name: 'Shingle Gate', eastKm: 2.75, southKm: 7.5, kind: 'start' },
            { name: 'Cranny Head', eastKm: 4.6, southKm: 7.0, kind: 'via' },
            { name: 'Long Moor', eastKm: 5.52, southKm: 7.3, kind: 'via' },
          ],
        },
        startClock: '08:30',
        rockClass: '1',
        members: JUNIORS,
      },
    ],
  },
  {
    file: 'marram-seniors',
    name: 'Marram Seniors',
    participants: 8,
    leaders: 2,
    ageBand: '15-17',
    members: SENIORS,
    home: { name: 'Marram Quay boat shed', eastKm: 27.6, southKm: 5.9 },
    driveLimitKm: 45,
    vehicles: [
      { seats: 6, clearance: 'high' },
      { seats: 6, clearance: 'high' },
    ],
    comfortClass: '2+',
    sleepElevationM: 40,
    earliestStart: '04:00',
    aim: 'comfort',
    paceFactor: 0.76,
    outings: [
      {
        kind: 'hand',
        date: '2026-05-16',
        distanceM: 7800,
        gainM: 430,
        movingMin: 180,
        maxElevationM: 860,
        rockClass: '1',
        members: SENIORS,
      },
      {
        kind: 'hand',
        date: '2026-05-30',
        distanceM: 9200,
        gainM: 700,
        movingMin: 245,
        maxElevationM: 1170,
        rockClass: '1+',
        members: SENIORS.filter((label) => label !== 'm6'),
      },
      {
        kind: 'track',
        date: '2026-06-14',
        walk: 'seniors-two-knolls',
        name: 'Two Knolls Round',
        line: 'two-knolls-round',
        startClock: '07:00',
        rockClass: '1+',
        members: SENIORS,
      },
      {
        kind: 'hand',
        date: '2026-06-21',
        distanceM: 11000,
        gainM: 820,
        movingMin: 300,
        maxElevationM: 1840,
        rockClass: '2',
        members: SENIORS.filter((label) => label !== 'm2' && label !== 'm7'),
      },
      {
        kind: 'track',
        date: '2026-07-01',
        walk: 'seniors-marram-ridge',
        name: 'Marram Ridge',
        line: {
          shape: 'outAndBack',
          steadyGrade: 0.15,
          stops: [
            { name: 'Quay Cross', eastKm: 24.55, southKm: 4.46, kind: 'start' },
            { name: 'Marram Hill', eastKm: 23.07, southKm: 4.9, kind: 'summit' },
            { name: 'Ridge end', eastKm: 22.95, southKm: 6.85, kind: 'via' },
          ],
        },
        startClock: '06:10',
        rockClass: '2',
        members: SENIORS,
      },
    ],
  },
  {
    file: 'plover-adults',
    name: 'Plover Adults',
    participants: 6,
    leaders: 2,
    ageBand: 'adult',
    members: null,
    home: { name: 'Plover Strand hall', eastKm: 31.2, southKm: 15.7 },
    driveLimitKm: 90,
    vehicles: [{ seats: 9, clearance: 'fourWheel' }],
    comfortClass: '3',
    sleepElevationM: 900,
    earliestStart: '03:00',
    aim: 'challenge',
    paceFactor: 0.55,
    outings: [
      {
        kind: 'hand',
        date: '2026-05-10',
        distanceM: 11200,
        gainM: 760,
        movingMin: 205,
        maxElevationM: 1240,
        rockClass: '2',
        members: null,
      },
      {
        kind: 'hand',
        date: '2026-05-24',
        distanceM: 13500,
        gainM: 1020,
        movingMin: 260,
        maxElevationM: 2320,
        rockClass: '2+',
        members: null,
      },
      {
        kind: 'track',
        date: '2026-06-13',
        walk: 'adults-oakum-dome',
        name: 'Oakum Dome',
        line: 'oakum-dome',
        startClock: '04:30',
        rockClass: '2+',
        members: null,
      },
      {
        kind: 'hand',
        date: '2026-06-24',
        distanceM: 10400,
        gainM: 1290,
        movingMin: 270,
        maxElevationM: 2700,
        rockClass: '3',
        members: null,
      },
      {
        kind: 'track',
        date: '2026-07-04',
        walk: 'adults-wether-down',
        name: 'Wether Down and the Buoy ridge',
        line: {
          shape: 'outAndBack',
          steadyGrade: 0.15,
          stops: [
            { name: 'Plover Green', eastKm: 28.63, southKm: 17.39, kind: 'start' },
            { name: 'Wether Down', eastKm: 28.2, southKm: 15.0, kind: 'via' },
            { name: 'Buoy ridge', eastKm: 26.65, southKm: 14.3, kind: 'via' },
          ],
        },
        startClock: '05:00',
        rockClass: '2+',
        members: null,
      },
    ],
  },
];
