import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitFor } from '../../src/app/shortlist.ts';
import { DESIGN } from '../../src/design.ts';
import { clock } from '../../src/earth/local-time.ts';
import type { CohortInput } from '../../src/ingest/cohort-file.ts';
import { makeTripPlan } from '../../src/plan/trip-plan.ts';
import { describeRoute } from '../../src/route/describe-route.ts';
import { MS_PER_MIN } from '../../src/units.ts';
import { elevated } from '../support/elevated.ts';

// The figures of the worked example stand in src/day/README.md, derived there step by step; this test reads them.
const rows = readFileSync('src/day/README.md', 'utf8')
  .split('## A day worked out by hand')[1]
  ?.split('\n')
  .filter((line) => line.startsWith('| ') && !line.startsWith('|---'))
  .map((line) =>
    line
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
const placeRows = (rows ?? []).filter((row) => row.length === 9 && row[0] !== 'Place');
const figures = new Map(
  (rows ?? []).filter((row) => row.length === 2).map(([name = '', value = '']) => [name, value]),
);
const figure = (name: string): string => {
  const found = figures.get(name);
  if (found === undefined) throw new RangeError(`the worked example has no row “${name}”`);
  return found;
};

const up = Array.from({ length: 151 }, (_, i) => 100 + 4 * i);
const heightsM = [...up, ...Array.from({ length: 10 }, () => 700), ...[...up].reverse().slice(1)];
const half = (heightsM.length - 1) / 2;
const route = describeRoute(
  elevated({
    heightsM,
    bearingsDeg: heightsM.slice(1).map((_, i) => (i < half ? 90 : 270)),
    name: 'Worked Hill',
  }),
  DESIGN,
  {
    attributes: {
      rockClass: '2',
      surface: 'trail',
      treelineM: 500,
      trailhead: { roadMin: 40, roadKm: 30, roadClearance: 'any' },
    },
  },
);
const cohort: CohortInput = {
  name: 'Worked Group',
  participants: 8,
  leaders: 2,
  ageBand: '15-17',
  home: { lat: 46.1, lon: -30.2 },
  earliestStart: '03:30',
  headlamps: true,
  comfortClass: '2',
  sleepElevationM: 100,
  altitudeHistory: 'none',
};
const record = { cohort, outings: [] };
const { details } = makeTripPlan({
  fit: fitFor(route, { record, date: '2026-07-11', design: DESIGN }),
  record,
  date: '2026-07-11',
  today: '2026-06-01',
  known: [],
  spareDate: null,
  warm: false,
  design: DESIGN,
});
if (details === null) throw new RangeError('the worked example has no day');
const { day, supplies, kit } = details;
const { timeline } = day;
const at = (ms: number | null): string => (ms === null ? '–' : clock(ms, timeline.zone));

describe('the day worked out by hand', () => {
  it('has the places, times, cut-off and retreat times of the program', () => {
    const minutes = (ms: number) => ((ms - timeline.startMs) / MS_PER_MIN).toFixed(1).replace(/^0\.0$/, '0');
    expect(
      day.places.map((place) => [
        place.kind,
        `${(place.distanceM / 1000).toFixed(1)} km`,
        `${Math.round(place.elevationM ?? Number.NaN)} m`,
        minutes(place.at.p10Ms),
        minutes(place.at.p50Ms),
        minutes(place.at.p90Ms),
        at(place.cutOffMs),
        at(place.retreatMs),
        place.roadOut === null ? '–' : place.roadOut.minutes.p90.toFixed(1),
      ]),
    ).toEqual(placeRows);
  });

  it('has every other figure of the program', () => {
    const leg = details.routeCard.legs[0];
    const bearing = (deg: number | null | undefined) =>
      `${String(Math.round(deg ?? Number.NaN)).padStart(3, '0')}°`;
    const found: Record<string, string> = {
      'moving time': `${timeline.movingMin.toFixed(1)} min`,
      'latest start': at(timeline.storm.latestStartMs),
      start: at(timeline.startMs),
      deadline: at(timeline.storm.deadline.atMs),
      probability: (timeline.storm.probability ?? Number.NaN).toFixed(2),
      'longest way to treeline, middle': `${day.farthest?.minutes.p50.toFixed(1)} min`,
      'longest way to treeline, late': `${day.farthest?.minutes.p90.toFixed(1)} min`,
      'by headlamp': `${day.daylight.headlampMin.p90.toFixed(0)} min`,
      'leave the meeting place': at(day.journey.departMs),
      'in bed': `${day.journey.sleepH?.toFixed(2)} h`,
      'water to drink, each': `${supplies.water.drinkEachL.toFixed(2)} L`,
      'water to carry, each': `${supplies.water.each.packedL} L`,
      'water to carry, all': `${supplies.water.party.packedL} L`,
      'work of the day, with margin': `${Math.round(supplies.participant.food.workWithMarginKcal ?? Number.NaN)} kcal`,
      'food to carry, each': `${Math.round(supplies.participant.food.carryKcal)} kcal`,
      pack: `${supplies.participant.pack.totalKg.toFixed(2)} kg`,
      'pack share': `${(100 * supplies.participant.pack.share).toFixed(1)} %`,
      'true bearing up': bearing(leg?.trueDeg),
      'magnetic bearing up': bearing(leg?.magneticDeg),
      'grid of the trailhead': leg?.from.grid?.text ?? '',
      'warmth at the top': `${kit.summit?.coldC.toFixed(0)} °C`,
    };
    expect(found).toEqual(Object.fromEntries([...figures].filter(([name]) => name !== 'Figure')));
    expect(figure('deadline')).toBe('11:06');
  });
});
