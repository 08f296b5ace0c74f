import { LRUCache } from 'lru-cache';
import { at, numberAt } from '../array.ts';
import { effortKj } from '../capability/effort.ts';
import type { AgeBand, Design } from '../design.ts';
import { geodesicM, type Place } from '../earth/geodesic.ts';
import { localTimeMs } from '../earth/local-time.ts';
import { twilightAround } from '../earth/sun.ts';
import { dayNumber } from './day-number.ts';
import { CLIMB_NUMBERS, ROW_COLUMNS, type RouteRow, type RowColumn } from './route-row.ts';

/** The sun of one date at every trailhead, ms since 1970; `NaN`: none. */
export interface SunColumns {
  readonly solarNoonMs: Float64Array;
  readonly civilDawnMs: Float64Array;
  readonly civilDuskMs: Float64Array;
  /** 1: the sun does not set; -1: it does not rise. */
  readonly polar: Int8Array;
}

/** Metabolic work of every route, kJ, and how it grows and falls with its gain, as shares (it is near linear in gain). */
interface WorkColumns {
  readonly kj: Float64Array;
  readonly perMoreGain: Float64Array;
  readonly perLessGain: Float64Array;
}

/** All routes of a library as typed columns, one entry a route; `NaN` is "not known". */
export interface RankTable {
  readonly size: number;
  readonly names: readonly string[];
  readonly columns: Readonly<Record<RowColumn, Float64Array>>;
  readonly zones: readonly string[];
  /** Place of the route's zone in `zones`. */
  readonly zoneAt: Uint16Array;
  /** Climbing pieces of all routes, `CLIMB_NUMBERS` each; those of route i begin at `climbsFrom[i]`. */
  readonly climbs: Float64Array;
  readonly climbsFrom: Uint32Array;
  /** Where the pieces before the exit end. */
  readonly climbsToExit: Uint32Array;
  /** As `dayNumber`; `NaN`: no season is stated. */
  readonly seasonFrom: Float64Array;
  readonly seasonTo: Float64Array;
  /** Pairs of `dayNumber`; those of route i begin at `closuresFrom[i]`. */
  readonly closures: Float64Array;
  readonly closuresFrom: Uint32Array;
  readonly rows: readonly RouteRow[];
  /** Columns that depend on one thing beside the routes, made once for it and kept while it is asked about. */
  readonly sunOn: (date: string) => SunColumns;
  readonly straightKmFrom: (home: Place) => Float64Array;
  readonly effortKjOf: (ageBand: AgeBand, design: Pick<Design, 'massKg' | 'tradeRule'>) => WorkColumns;
}

/** Dates, meeting places and age bands whose columns are kept (design): 25 bytes a route and date, 8 of each other. */
const KEPT = 16;

/** Columns made for a key: those of another table are taken over where `same` says at which place a row stood there. */
interface Kept<T extends object> {
  readonly of: (key: string) => T;
  readonly known: () => Iterable<readonly [key: string, columns: T]>;
}

function kept<T extends object>(
  make: (key: string, before: T | null) => T,
  before: Kept<T> | undefined,
): Kept<T> {
  const cache = new LRUCache<string, T>({ max: KEPT });
  for (const [key, columns] of before?.known() ?? []) cache.set(key, make(key, columns));
  return {
    of(key) {
      const found = cache.get(key);
      if (found !== undefined) return found;
      const made = make(key, null);
      cache.set(key, made);
      return made;
    },
    // The latest asked for last, as they are to be kept.
    *known() {
      for (const [key, columns] of cache.rentries()) yield [key as string, columns as T] as const;
    },
  };
}

/** Parts of rows of different lengths, one behind the other, and where each row's begin. */
function joined(parts: readonly (readonly number[])[], each: number) {
  const from = new Uint32Array(parts.length + 1);
  parts.forEach((part, i) => {
    from[i + 1] = at(from, i) + part.length / each;
  });
  const values = new Float64Array(at(from, parts.length) * each);
  parts.forEach((part, i) => {
    values.set(part, at(from, i) * each);
  });
  return { values, from };
}

/** Columns that are made once and kept, beside the rows they are of: the next table takes them over. */
const madeFor = new WeakMap<
  RankTable,
  {
    readonly sun: Kept<SunColumns>;
    readonly straightKm: Kept<Float64Array>;
    readonly work: Kept<WorkColumns>;
  }
>();

/** Where each of these rows stood among others; -1: not there. */
function placesAmong(rows: readonly RouteRow[], others: readonly RouteRow[]): Int32Array {
  const places = new Map(others.map((row, i) => [row, i]));
  return Int32Array.from(rows, (row) => places.get(row) ?? -1);
}

/**
 * The table of some routes, in the order given.
 *
 * @param before another table: what was worked out for the very same rows is not worked out again
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one column after another, from the same rows
export function tableOf(rows: readonly RouteRow[], before?: RankTable): RankTable {
  const size = rows.length;
  const columns = Object.fromEntries(ROW_COLUMNS.map((column) => [column, new Float64Array(size)])) as Record<
    RowColumn,
    Float64Array
  >;
  const inOrder = ROW_COLUMNS.map((column) => columns[column]);
  rows.forEach(({ numbers }, i) => {
    for (let c = 0; c < inOrder.length; c += 1) at(inOrder, c)[i] = at(numbers, c) ?? Number.NaN;
  });
  const zones: string[] = [];
  const places = new Map<string, number>();
  const zoneAt = Uint16Array.from(rows, ({ zone }) => {
    const place = places.get(zone) ?? zones.push(zone) - 1;
    places.set(zone, place);
    return place;
  });
  const climbs = joined(
    rows.map((row) => row.climbs),
    CLIMB_NUMBERS,
  );
  const closures = joined(
    rows.map((row) => row.closures.flat().map(dayNumber)),
    2,
  );
  const { lonDeg, latDeg } = columns;
  const trailhead = (i: number): Place => ({ lonDeg: numberAt(lonDeg, i), latDeg: numberAt(latDeg, i) });

  const made = before === undefined ? undefined : madeFor.get(before);
  const same = before === undefined ? new Int32Array(size).fill(-1) : placesAmong(rows, before.rows);
  const column = (old: Float64Array | null, make: (i: number) => number): Float64Array => {
    const values = new Float64Array(size);
    for (let i = 0; i < size; i += 1) {
      const place = at(same, i);
      values[i] = old === null || place < 0 ? make(i) : numberAt(old, place);
    }
    return values;
  };

  const sun = kept((date, old: SunColumns | null): SunColumns => {
    const days = {
      solarNoonMs: new Float64Array(size),
      civilDawnMs: new Float64Array(size),
      civilDuskMs: new Float64Array(size),
      polar: new Int8Array(size),
    };
    const middayMs = zones.map((zone) => localTimeMs(date, '12:00', zone));
    for (let i = 0; i < size; i += 1) {
      const place = at(same, i);
      if (old !== null && place >= 0) {
        days.solarNoonMs[i] = numberAt(old.solarNoonMs, place);
        days.civilDawnMs[i] = numberAt(old.civilDawnMs, place);
        days.civilDuskMs[i] = numberAt(old.civilDuskMs, place);
        days.polar[i] = at(old.polar, place);
        continue;
      }
      const day = twilightAround(at(middayMs, at(zoneAt, i)), trailhead(i));
      days.solarNoonMs[i] = day.solarNoonMs;
      days.civilDawnMs[i] = day.civilDawnMs ?? Number.NaN;
      days.civilDuskMs[i] = day.civilDuskMs ?? Number.NaN;
      days.polar[i] = day.polar === 'day' ? 1 : day.polar === 'night' ? -1 : 0;
    }
    return days;
  }, made?.sun);
  const straightKm = kept((key, old: Float64Array | null) => {
    const [lonDegHome = 0, latDegHome = 0] = JSON.parse(key) as number[];
    const home = { lonDeg: lonDegHome, latDeg: latDegHome };
    return column(old, (i) => geodesicM(home, trailhead(i)) / 1000);
  }, made?.straightKm);
  const { upKm, upM, downKm, downM } = columns;
  const work = kept((key, old: WorkColumns | null): WorkColumns => {
    const [ageBand, design] = JSON.parse(key) as [AgeBand, Design];
    const workKj = (i: number, gain: number) => {
      const walk = {
        upKm: numberAt(upKm, i),
        upM: numberAt(upM, i) * gain,
        downKm: numberAt(downKm, i),
        downM: numberAt(downM, i) * gain,
      };
      return effortKj(walk, ageBand, design);
    };
    const kj = column(old?.kj ?? null, (i) => workKj(i, 1));
    /** By how much the work differs for each part of the gain that is more or less, measured over a tenth. */
    const perGain = (before: Float64Array | undefined, part: number) =>
      column(before ?? null, (i) =>
        numberAt(kj, i) > 0 ? (workKj(i, 1 + part) / numberAt(kj, i) - 1) / part : 0,
      );
    return {
      kj,
      perMoreGain: perGain(old?.perMoreGain, 0.1),
      perLessGain: perGain(old?.perLessGain, -0.1),
    };
  }, made?.work);
  const table: RankTable = {
    size,
    rows,
    names: rows.map(({ name }) => name),
    columns,
    zones,
    zoneAt,
    climbs: climbs.values,
    climbsFrom: climbs.from,
    climbsToExit: Uint32Array.from(rows, (row, i) => at(climbs.from, i) + row.climbsToExit),
    seasonFrom: Float64Array.from(rows, ({ season }) =>
      season === null ? Number.NaN : dayNumber(season[0]),
    ),
    seasonTo: Float64Array.from(rows, ({ season }) => (season === null ? Number.NaN : dayNumber(season[1]))),
    closures: closures.values,
    closuresFrom: closures.from,
    sunOn: sun.of,
    straightKmFrom: ({ lonDeg: lon, latDeg: lat }) => straightKm.of(JSON.stringify([lon, lat])),
    effortKjOf: (ageBand, { massKg, tradeRule }) => work.of(JSON.stringify([ageBand, { massKg, tradeRule }])),
  };
  madeFor.set(table, { sun, straightKm, work });
  return table;
}
