import type { Moment } from '../../src/day/walk-day.ts';
import type { PageSection, PeoplePage } from '../../src/document/people-page.ts';
import type { PlanCheckpoint, PlanFacts } from '../../src/document/plan-facts.ts';
import { clock, localTimeMs } from '../../src/earth/local-time.ts';

const DATE = '2026-07-11';
const ZONE = 'Etc/GMT+2';
export const at = (time: string): number => localTimeMs(DATE, time, ZONE);
const moment = (p10: string, p50: string, p90: string): Moment => ({
  p10Ms: at(p10),
  p50Ms: at(p50),
  p90Ms: at(p90),
});

const checkpoint = (
  name: string,
  kind: PlanCheckpoint['kind'],
  distanceM: number,
  elevationM: number,
  moments: Moment,
  more: Partial<PlanCheckpoint> = {},
): PlanCheckpoint => ({
  cutOffText: more.cutOffMs == null ? '–' : clock(more.cutOffMs, ZONE),
  retreatText: more.retreatMs == null ? '–' : clock(more.retreatMs, ZONE),
  name,
  kind,
  distanceM,
  elevationM,
  latDeg: 46.1051,
  lonDeg: -30.2034 - Math.min(distanceM, 9400 - distanceM) / 1e5,
  grid: '26T LS 1234 5678',
  cutOffMs: null,
  retreatMs: null,
  at: moments,
  wayOut: { text: 'back the way you came', minutes: { p50: 75, p90: 110 }, distanceM: 3200 },
  ...more,
});

/** A day on the invented island: up at 05:00, below treeline by 11:10 in nine days of ten, deadline 12:00. */
export const DAY: PlanFacts = {
  routeName: 'Grey Horn',
  date: DATE,
  zone: ZONE,
  trailheadName: 'Mill Bridge',
  distanceM: 9400,
  gainM: 940,
  highM: 1950,
  rockClass: '2+',
  classInDoubt: null,
  verdict: 'stretch',
  meetMs: at('04:10'),
  startMs: at('05:00'),
  back: moment('11:40', '12:30', '13:25'),
  usualDeadlineMs: at('12:00'),
  home: null,
  deadlineMs: at('12:00'),
  checkpoints: [
    checkpoint('start', 'trailhead', 0, 1010, moment('05:00', '05:00', '05:00')),
    checkpoint('treeline, up', 'treelineUp', 2600, 1500, moment('06:30', '06:50', '07:10'), {
      cutOffMs: at('07:42'),
    }),
    checkpoint('top', 'high', 4700, 1950, moment('08:10', '08:50', '09:30'), {
      cutOffMs: at('10:05'),
      retreatMs: at('10:05'),
      wayOut: null,
    }),
    checkpoint('treeline, down', 'treelineDown', 6800, 1500, moment('09:40', '10:20', '11:10')),
    checkpoint('end', 'end', 9400, 1010, moment('11:40', '12:30', '13:25')),
  ],
  party: { participants: 9, leaders: 2, ageBand: '12-14' },
  sleepElevationM: 900,
  altitudeHistory: 'none',
  aboveTreelineMin: 210,
  steepSnow: null,
  steepGround: null,
  roadStatus: null,
  lightning: null,
  lowerChoice: { name: 'Lake Bench', distanceM: 6100, gainM: 420, verdict: 'fits' },
  spareDate: '2026-07-12',
  waterLitresEach: 3.2,
  waterFills: 0,
  waterMostPerHL: 1,
  foodKcalEach: 1840,
  kit: ['Rain jacket', 'Warm hat'],
  trainingSteps: ['By 27 June: a day of 9 km.', 'By 4 July: a day with 850 m up.'],
};

/** Nothing is known that may be unknown. */
export const BARE: PlanFacts = {
  ...DAY,
  trailheadName: null,
  gainM: null,
  highM: null,
  rockClass: null,
  meetMs: null,
  deadlineMs: null,
  checkpoints: DAY.checkpoints
    .filter(({ kind }) => kind === 'trailhead' || kind === 'end')
    .map((found) => ({ ...found, elevationM: null, grid: null, wayOut: null })),
  party: { participants: 9, leaders: null, ageBand: null },
  sleepElevationM: null,
  altitudeHistory: null,
  aboveTreelineMin: null,
  steepSnow: null,
  lowerChoice: null,
  spareDate: null,
  kit: [],
  trainingSteps: [],
};

/** All that a section prints. */
export const sectionText = ({ heading, lines, table, ticks, blanks }: PageSection): string =>
  [
    heading,
    ...lines.map(({ text }) => text),
    ...(table === null ? [] : [table.columns.join(' | '), ...table.rows.map((row) => row.join(' | '))]),
    ...ticks,
    ...blanks,
  ].join('\n');

/** All that a page prints. */
export const pageText = ({ title, sections }: PeoplePage): string =>
  [title, ...sections.map(sectionText)].join('\n');

/** The section whose heading begins so. */
export function sectionOf({ sections }: PeoplePage, heading: string): PageSection {
  const found = sections.find((candidate) => candidate.heading.startsWith(heading));
  if (found === undefined) throw new RangeError(`no section ${heading}`);
  return found;
}
