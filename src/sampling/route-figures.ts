import { quantileOf } from '../capability/pace-model.ts';
import type { Quantities } from '../capability/quantities.ts';
import type { Design } from '../design.ts';
import { CRITERION_NAMES } from '../rank/criterion.ts';
import type { TableJudgement } from '../rank/rank-by-table.ts';
import type { RankTable } from '../rank/rank-table.ts';
import type { Readiness } from '../rank/readiness.ts';
import type { Band } from '../route/gain.ts';
import { MS_PER_MIN } from '../units.ts';

/** A day in minutes after the earliest start. */
export interface DayFigures {
  readonly startMin: number;
  readonly usualStartMin: number;
  /** When everyone must be below treeline; its latest start, and middle and late time to get there: `null` without. */
  readonly window: {
    readonly byMin: number;
    readonly latestMin: number;
    readonly exitMin: { readonly p50: number; readonly p90: number };
  } | null;
  /** Whether treeline is not known, so that the window cannot be kept, only respected. */
  readonly isWindowOpen: boolean;
  /** Late time to the end, and the hour kept before dusk; `null` where the sun sets no limit. */
  readonly light: { readonly endMin: number; readonly backByMin: number } | null;
}

/** What the draws look at of one route. */
export interface RouteFigures {
  readonly name: string;
  readonly distanceM: number;
  readonly lonDeg: number;
  readonly latDeg: number;
  readonly gainM: Band | null;
  /** The four quantities, nothing added. */
  readonly walk: Quantities;
  /** Rank of the route's verdict, and of each criterion's with its value. */
  readonly rank: number;
  readonly ranks: readonly number[];
  readonly values: readonly number[];
  /** Demand over capacity; `null`: not known. */
  readonly ratios: {
    readonly distance: number | null;
    readonly gain: number | null;
    readonly effort: number | null;
  };
  /** `null` where heights are missing. */
  readonly day: DayFigures | null;
}

const orNull = (value: number | undefined): number | null =>
  value === undefined || Number.isNaN(value) ? null : value;

function dayFigures(
  table: RankTable,
  { day }: TableJudgement,
  { pace }: Readiness,
  i: number,
  design: Design,
): DayFigures | null {
  const earliestMs = orNull(day.earliestStartMs[i]);
  if (earliestMs === null) return null;
  const { degreesOfFreedom } = pace.posterior;
  const minutes = (ms: number | undefined) => ((ms ?? 0) - earliestMs) / MS_PER_MIN;
  const late = quantileOf(0.9, degreesOfFreedom);
  const isKnown = table.columns.isTreelineKnown[i] === 1;
  const isOpenEnd = table.columns.endsAbove[i] === 1 && table.columns.isOneWay[i] === 1;
  const exitMean = day.exitMeanMin[i] ?? 0;
  const hasWindow = isKnown && !isOpenEnd && table.columns.hasExit[i] === 1;
  const duskMs = orNull(day.civilDuskMs[i]);
  return {
    startMin: minutes(day.startMs[i]),
    usualStartMin: minutes(day.usualStartMs[i]),
    window: hasWindow
      ? {
          byMin: minutes(day.deadlineMs[i]),
          latestMin: minutes(day.latestStartMs[i]),
          exitMin: {
            p50: quantileOf(0.5, degreesOfFreedom)(exitMean, day.exitScaleMin[i] ?? 0),
            p90: late(exitMean, day.exitScaleMin[i] ?? 0),
          },
        }
      : null,
    isWindowOpen: !isKnown || isOpenEnd,
    light:
      duskMs === null || day.polar[i] !== 0
        ? null
        : {
            endMin: late(day.endMeanMin[i] ?? 0, day.endScaleMin[i] ?? 0),
            backByMin: minutes(duskMs) - design.daylight.beforeDuskMin,
          },
  };
}

/** The figures of the route at `i` of a judged table. */
export function figuresAt(
  table: RankTable,
  judged: TableJudgement,
  readiness: Readiness,
  i: number,
  design: Design,
): RouteFigures {
  const { columns } = table;
  const at = (column: keyof typeof columns): number => columns[column][i] ?? 0;
  const value = orNull(columns.gainM[i]);
  const { distance, gain, effort } = judged.ratios;
  return {
    name: table.names[i] ?? '',
    distanceM: at('distanceM'),
    lonDeg: at('lonDeg'),
    latDeg: at('latDeg'),
    gainM: value === null ? null : { value, low: at('gainLowM'), high: at('gainHighM') },
    walk: { upKm: at('upKm'), upM: at('upM'), downKm: at('downKm'), downM: at('downM') },
    rank: judged.verdicts[i] ?? 0,
    ranks: CRITERION_NAMES.map((_, c) => judged.ranks[c * table.size + i] ?? 0),
    values: CRITERION_NAMES.map((_, c) => judged.values[c * table.size + i] ?? 0),
    ratios: { distance: orNull(distance(i)), gain: orNull(gain(i)), effort: orNull(effort(i)) },
    day: dayFigures(table, judged, readiness, i, design),
  };
}
