import { LRUCache } from 'lru-cache';
import { effortKj } from '../capability/effort.ts';
import type { AgeBand, Design } from '../design.ts';
import { geodesicM, type Place } from '../earth/geodesic.ts';
import { localTimeMs } from '../earth/local-time.ts';
import { twilightAround } from '../earth/sun.ts';
import { dayNumber } from './criteria/season.ts';
import { CLIMB_NUMBERS, ROW_COLUMNS, type RouteRow, type RowColumn } from './route-row.ts';

/** The sun of one date at every trailhead, ms since 1970; `NaN`: none. */
export interface SunColumns {
  readonly solarNoonMs: Float64Array;
  readonly civilDawnMs: Float64Array;
  readonly civilDuskMs: Float64Array;
  /** 1: the sun does not set; -1: it does not rise. */
  readonly polar: Int8Array;
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
  /** Columns that depend on one thing beside the routes, made once for it and kept while it is asked about. */
  readonly sunOn: (date: string) => SunColumns;
  readonly straightKmFrom: (home: Place) => Float64Array;
  readonly effortKjOf: (ageBand: AgeBand, design: Pick<Design, 'massKg' | 'tradeRule'>) => Float64Array;
}

/** Dates, meeting places and age bands whose columns are kept (design). */
const KEPT = 16;

function kept<T extends object>(make: (key: string) => T): (key: string) => T {
  const cache = new LRUCache<string, T>({ max: KEPT });
  return (key) => {
    const known = cache.get(key);
    if (known !== undefined) return known;
    const made = make(key);
    cache.set(key, made);
    return made;
  };
}

/** Parts of rows of different lengths, one behind the other, and where each row's begin. */
function joined(parts: readonly (readonly number[])[], each: number) {
  const from = new Uint32Array(parts.length + 1);
  parts.forEach((part, i) => {
    from[i + 1] = (from[i] ?? 0) + part.length / each;
  });
  return { values: Float64Array.from(parts.flat()), from };
}

/** The table of some routes, in the order given. */
export function tableOf(rows: readonly RouteRow[]): RankTable {
  const size = rows.length;
  const columns = Object.fromEntries(
    ROW_COLUMNS.map((column, c) => [column, Float64Array.from(rows, (row) => row.numbers[c] ?? Number.NaN)]),
  ) as Record<RowColumn, Float64Array>;
  const zones = [...new Set(rows.map(({ zone }) => zone))];
  const zoneAt = Uint16Array.from(rows, ({ zone }) => zones.indexOf(zone));
  const climbs = joined(
    rows.map((row) => row.climbs),
    CLIMB_NUMBERS,
  );
  const closures = joined(
    rows.map((row) => row.closures.flat().map(dayNumber)),
    2,
  );
  const { lonDeg, latDeg } = columns;
  const trailhead = (i: number): Place => ({ lonDeg: lonDeg[i] ?? 0, latDeg: latDeg[i] ?? 0 });

  const sunOn = kept((date): SunColumns => {
    const sun = {
      solarNoonMs: new Float64Array(size),
      civilDawnMs: new Float64Array(size),
      civilDuskMs: new Float64Array(size),
      polar: new Int8Array(size),
    };
    const middayMs = zones.map((zone) => localTimeMs(date, '12:00', zone));
    for (let i = 0; i < size; i += 1) {
      const day = twilightAround(middayMs[zoneAt[i] ?? 0] ?? Number.NaN, trailhead(i));
      sun.solarNoonMs[i] = day.solarNoonMs;
      sun.civilDawnMs[i] = day.civilDawnMs ?? Number.NaN;
      sun.civilDuskMs[i] = day.civilDuskMs ?? Number.NaN;
      sun.polar[i] = day.polar === 'day' ? 1 : day.polar === 'night' ? -1 : 0;
    }
    return sun;
  });
  const straightKm = kept((key) => {
    const [lonDegHome = 0, latDegHome = 0] = JSON.parse(key) as number[];
    const home = { lonDeg: lonDegHome, latDeg: latDegHome };
    return Float64Array.from({ length: size }, (_, i) => geodesicM(home, trailhead(i)) / 1000);
  });
  const { upKm, upM, downKm, downM } = columns;
  const work = kept((key) => {
    const [ageBand, design] = JSON.parse(key) as [AgeBand, Design];
    return Float64Array.from({ length: size }, (_, i) =>
      effortKj(
        { upKm: upKm[i] ?? 0, upM: upM[i] ?? 0, downKm: downKm[i] ?? 0, downM: downM[i] ?? 0 },
        ageBand,
        design,
      ),
    );
  });
  return {
    size,
    names: rows.map(({ name }) => name),
    columns,
    zones,
    zoneAt,
    climbs: climbs.values,
    climbsFrom: climbs.from,
    climbsToExit: Uint32Array.from(rows, (row, i) => (climbs.from[i] ?? 0) + row.climbsToExit),
    seasonFrom: Float64Array.from(rows, ({ season }) =>
      season === null ? Number.NaN : dayNumber(season[0]),
    ),
    seasonTo: Float64Array.from(rows, ({ season }) => (season === null ? Number.NaN : dayNumber(season[1]))),
    closures: closures.values,
    closuresFrom: closures.from,
    sunOn,
    straightKmFrom: ({ lonDeg: lon, latDeg: lat }) => straightKm(JSON.stringify([lon, lat])),
    effortKjOf: (ageBand, { massKg, tradeRule }) => work(JSON.stringify([ageBand, { massKg, tradeRule }])),
  };
}
