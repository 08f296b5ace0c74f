/**
 * How well the pace model predicts groups whose real pace is known: `npm run truth:pace [-- --json] [-- --groups N]`.
 * Every published rule is timed beside it on the same days.
 */
import { cpus } from 'node:os';
import { fitPaceModel, predictMoving, quantileMin } from '../src/capability/pace-model.ts';
import { HIKING_RULES } from '../src/capability/rules/index.ts';
import type { Leg } from '../src/capability/rules/leg.ts';
import { table } from '../src/cli/table.ts';
import { DESIGN, type Design } from '../src/design.ts';
import { sized } from './bench/size.ts';
import { randomStream } from './demo-range/random.ts';
import {
  type Day,
  type DayKind,
  EVEN_DAYS,
  outingOf,
  quantitiesOf,
  UNEVEN_DAYS,
  type World,
  walkedParts,
  worlds,
} from './truth/pace-worlds.ts';

const SEED = 20260711;
const OUTING = { km: [4, 16], climbM: [100, 1000] } as const;
const TARGET = { km: [12, 18], climbM: [900, 1500] } as const;
export const MOST_OUTINGS = 8;

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
};

export interface PaceRow {
  readonly days: string;
  readonly world: string;
  readonly outings: number;
  /** Share of days inside the 80 % and 90 % intervals. */
  readonly in80: number;
  readonly in90: number;
  /** Median width of the 80 % interval over the predicted time, relative to the prior’s. */
  readonly width: number;
  /** Median relative error of the middle prediction. */
  readonly error: number;
  /** The same for each published rule, fitted to nobody. */
  readonly rules: Readonly<Record<string, number>>;
}

const whole = (legs: readonly Leg[]): Leg =>
  legs.reduce(
    (sum, leg) => ({
      horizontalM: sum.horizontalM + leg.horizontalM,
      climbM: sum.climbM + leg.climbM,
      dropM: sum.dropM + leg.dropM,
    }),
    { horizontalM: 0, climbM: 0, dropM: 0 },
  );

const ruleMin = (key: string, minutes: (legs: readonly Leg[]) => number, day: Day): number =>
  // DIN 33466 holds for whole legs: up, and down.
  minutes(key === 'din33466' ? [whole(day.up), whole(day.down)] : [...day.up, ...day.down]);

/** Simulates `groups` groups of a world, with 0 to 8 outings each, and predicts a summit day. */
export function simulate(
  world: World,
  kind: DayKind,
  groups: number,
  seed: number,
  design: Design = DESIGN,
): PaceRow[] {
  const prior = fitPaceModel([], design);
  const tallies = Array.from({ length: MOST_OUTINGS + 1 }, () => ({
    in80: 0,
    in90: 0,
    widths: [] as number[],
    errors: [] as number[],
  }));
  const ruleErrors: Record<string, number[]> = Object.fromEntries(HIKING_RULES.map(({ key }) => [key, []]));
  for (let i = 0; i < groups; i += 1) {
    const random = randomStream(seed + i, world.name);
    const truth = world.group(random, prior.prior);
    const outings = Array.from({ length: MOST_OUTINGS }, () =>
      outingOf(walkedParts(kind.draw(random, OUTING), truth, random)),
    );
    const target = kind.draw(random, TARGET);
    const took = walkedParts(target, truth, random).reduce((sum, part) => sum + part.movingMin, 0);
    for (const { key, minutes } of HIKING_RULES) {
      ruleErrors[key]?.push(Math.abs(ruleMin(key, minutes, target) / took - 1));
    }
    tallies.forEach((tally, count) => {
      const estimate = predictMoving(fitPaceModel(outings.slice(0, count), design), quantitiesOf(target));
      const at = (p: number) => quantileMin(estimate, p);
      if (took >= at(0.1) && took <= at(0.9)) tally.in80 += 1;
      if (took >= at(0.05) && took <= at(0.95)) tally.in90 += 1;
      tally.widths.push((at(0.9) - at(0.1)) / at(0.5));
      tally.errors.push(Math.abs(at(0.5) / took - 1));
    });
  }
  const priorWidth = median(tallies[0]?.widths ?? []);
  return tallies.map((tally, outings) => ({
    days: kind.name,
    world: world.name,
    outings,
    in80: tally.in80 / groups,
    in90: tally.in90 / groups,
    width: median(tally.widths) / priorWidth,
    error: median(tally.errors),
    rules: Object.fromEntries(HIKING_RULES.map(({ key }) => [key, median(ruleErrors[key] ?? [])])),
  }));
}

export const paceWorlds = (design: Design = DESIGN): readonly World[] =>
  worlds({ shared: design.pace.sharedSpread, own: design.pace.ownSpread });

const titleOf = (row: PaceRow): string => `${row.days}: ${row.world}`;

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

function print(rows: readonly PaceRow[], groups: number): void {
  const right = Array.from({ length: 6 }, () => 'right' as const);
  process.stdout.write(`${groups} simulated groups of each kind, seed ${SEED}\n`);
  for (const title of new Set(rows.map(titleOf))) {
    const own = rows.filter((row) => titleOf(row) === title);
    process.stdout.write(`\n${title}\n`);
    process.stdout.write(
      `${table(
        [
          ['outings', 'in 80 %', 'in 90 %', 'width', 'error'],
          ...own.map((row) => [
            String(row.outings),
            percent(row.in80),
            percent(row.in90),
            row.width.toFixed(2),
            percent(row.error),
          ]),
        ],
        right,
      )}\n`,
    );
    const rules = Object.entries(own[0]?.rules ?? {});
    process.stdout.write(
      `error of the rules: ${rules.map(([key, error]) => `${key} ${percent(error)}`).join(', ')}\n`,
    );
  }
}

function printJson(rows: readonly PaceRow[]): void {
  const document = {
    name: 'truth:pace',
    machine: `node ${process.version}, ${cpus().length} cores`,
    rows: rows.map((row) => ({
      case: `${titleOf(row)}, ${row.outings} outings`,
      ours: row.error,
      reference: row.rules.trade,
      unit: 'median relative error',
      ratio: row.error / (row.rules.trade ?? Number.NaN),
      referenceIs: 'the trade rule, fitted to nobody',
      in80: row.in80,
      in90: row.in90,
      widthOfPrior: row.width,
      rules: row.rules,
    })),
  };
  process.stdout.write(`${JSON.stringify(document, null, 2)}\n`);
}

if (process.argv[1]?.endsWith('truth-pace.ts') === true) {
  const at = process.argv.indexOf('--groups');
  const groups = at > 0 ? Number(process.argv[at + 1]) : sized(2000, 5);
  const rows = [EVEN_DAYS, UNEVEN_DAYS].flatMap((kind) =>
    paceWorlds().flatMap((world) => simulate(world, kind, groups, SEED)),
  );
  if (process.argv.includes('--json')) printJson(rows);
  else print(rows, groups);
}
