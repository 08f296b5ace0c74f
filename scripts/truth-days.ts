/**
 * How well real days hold to their predictions: `npm run truth:days [-- --json]`. Each of 42 dated days of one adult
 * party (`../shared/data/hikes`) is predicted from the earlier ones: whether moving and elapsed time lie within the range
 * of eight days in ten, and how often a day is later than the late time, or than the call for help an hour behind it.
 * The settings of the stops are round figures from the spread of all the days; none was fitted to these shares. The days
 * from 2012 on are told apart, as they lean on the most.
 */
import { existsSync, readFileSync } from 'node:fs';
import { remaining } from '../src/capability/detraining.ts';
import { handOuting } from '../src/capability/hand-outing.ts';
import type { Outing } from '../src/capability/outing.ts';
import { fitPaceModel, predictMoving, spreadOf } from '../src/capability/pace-model.ts';
import { plus } from '../src/capability/quantities.ts';
import { mealMinOf, withStops } from '../src/day/walking.ts';
import { DESIGN, type Design } from '../src/design.ts';
import { daysBetween } from '../src/earth/local-time.ts';
import { type BenchRow, report } from './bench/report.ts';

export const FILE = '../shared/data/hikes/timed-days.csv';
/** Whether the days are beside the checkout. */
export const hasDays = existsSync(FILE);

const LATER_FROM = '2012-01-01';

interface TimedDay extends Outing {
  readonly movingMin: number;
  readonly standingMin: number;
  readonly quantities: NonNullable<Outing['quantities']>;
}

export function timedDays(): readonly TimedDay[] {
  const [, ...lines] = readFileSync(FILE, 'utf8').trim().split('\n');
  return lines.map((line): TimedDay => {
    const [date = '', , , ...figures] = line.split(',');
    const [upKm = 0, upM = 0, downKm = 0, downM = 0, upMin = 0, downMin = 0, movingMin = 0, standingMin = 0] =
      figures.map(Number);
    const up = { upKm, upM, downKm: 0, downM: 0 };
    const down = { upKm: 0, upM: 0, downKm, downM };
    const walk = {
      date,
      distanceM: (upKm + downKm) * 1000,
      gainM: upM,
      lossM: downM,
      movingMin,
      standingMin,
    };
    return {
      ...handOuting(walk),
      quantities: plus(up, down),
      parts: [
        { quantities: up, movingMin: upMin },
        { quantities: down, movingMin: downMin },
      ],
      movingMin,
      standingMin,
    };
  });
}

/** What became of one day against what was said before it. */
interface Told {
  readonly date: string;
  readonly isMovingWithin: boolean;
  readonly isElapsedWithin: boolean;
  readonly isLate: boolean;
  readonly isCalled: boolean;
}

/** Each day against its prediction from the days before it. */
export function toldDays(days: readonly TimedDay[], design: Design): readonly Told[] {
  return days.map((day): Told => {
    const earlier = days.filter(({ date }) => date < day.date);
    const weightOf = ({ date }: Outing) => remaining(daysBetween(date, day.date), 'adult', design.detraining);
    const pace = fitPaceModel(earlier, design, weightOf);
    const walk = predictMoving(pace, day.quantities);
    const moving = spreadOf(walk);
    const elapsed = spreadOf(withStops(walk, pace, mealMinOf(walk.meanMin, design.day)));
    const tookMin = day.movingMin + day.standingMin;
    return {
      date: day.date,
      isMovingWithin: day.movingMin >= moving.p10 && day.movingMin <= moving.p90,
      isElapsedWithin: tookMin >= elapsed.p10 && tookMin <= elapsed.p90,
      isLate: tookMin > elapsed.p90,
      isCalled: tookMin > elapsed.p90 + design.cards.callOutAfterLateMin,
    };
  });
}

/** The share of days of which something holds. */
export const shareOf = (days: readonly Told[], is: (day: Told) => boolean): number =>
  days.filter(is).length / days.length;

function rowsOf(told: readonly Told[]): readonly BenchRow[] {
  const parts = [
    ['days up to 2011', told.filter(({ date }) => date < LATER_FROM)],
    ['days from 2012 on', told.filter(({ date }) => date >= LATER_FROM)],
    ['all', told],
  ] as const;
  return parts.flatMap(([name, days]) => {
    const row = (what: string, is: (day: Told) => boolean, reference: number): BenchRow => ({
      case: `${name} (${days.length}): ${what}`,
      ours: shareOf(days, is),
      reference,
      unit: '',
      referenceIs: 'what was said',
    });
    return [
      row('moving time within the range', ({ isMovingWithin }) => isMovingWithin, 0.8),
      row('elapsed time within the range', ({ isElapsedWithin }) => isElapsedWithin, 0.8),
      row('later than the late time', ({ isLate }) => isLate, 0.1),
      row('later than the call for help', ({ isCalled }) => isCalled, 0.1),
    ];
  });
}

if (process.argv[1]?.endsWith('truth-days.ts') === true) {
  if (hasDays) report('days', rowsOf(toldDays(timedDays(), DESIGN)), 'truth');
  else process.stdout.write(`truth:days skipped: ${FILE} is not there\n`);
}
