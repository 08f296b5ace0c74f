import type { Clearance } from '../../src/approach/vehicles.ts';
import { DESIGN } from '../../src/design.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { streamOf } from '../../src/sampling/random.ts';
import type { BoardProblem } from '../../src/season/board-program.ts';
import type { Pairing, SeasonQuestion } from '../../src/season/season.ts';
import { seasonProblem } from '../../src/season/season-options.ts';

export interface BoardCase {
  readonly name: string;
  readonly cohorts: number;
  readonly dates: number;
  readonly routes: number;
  readonly trailheads: number;
  /** Vehicles of the program. */
  readonly vehicles: number;
  /** Parties a day that a trailhead takes; half of the trailheads say. */
  readonly partiesPerDay: number;
  /** Share of the pairs of cohort and route that fit. */
  readonly fitting: number;
}

const CLEARANCES: readonly Clearance[] = ['any', 'high', 'fourWheel'];
const SEATS = [6, 8, 12, 15];

/** A season drawn from a seed. Only what the program is made from is drawn: the ranking is another benchmark’s. */
export function drawnSeason(of: BoardCase, seed: number): BoardProblem {
  const { uniform, normal } = streamOf(seed, of.name);
  const among = <T>(list: readonly T[], last: T): T => list[Math.floor(uniform() * list.length)] ?? last;
  const heads = Array.from({ length: of.trailheads }, (_, at) => ({
    name: `Trailhead ${at}`,
    lonDeg: -30 + (at % 10) * 0.1,
    latDeg: 46 + Math.floor(at / 10) * 0.1,
    roadClearance: among(CLEARANCES.slice(0, 2), 'any'),
    partiesPerDay: at % 2 === 0 ? of.partiesPerDay : null,
    parkingSpaces: at % 3 === 0 ? 2 + Math.floor(uniform() * 3) : null,
  }));
  const routes = Array.from({ length: of.routes }, (_, index) => {
    const head = heads[index % heads.length] ?? heads[0];
    if (head === undefined) throw new RangeError('a season needs trailheads');
    const { name, roadClearance, parkingSpaces, partiesPerDay, lonDeg, latDeg } = head;
    const attributes = { trailhead: { name, roadClearance, parkingSpaces }, permit: { partiesPerDay } };
    // The program looks at nothing else of a route.
    const measures = { shape: 'outAndBack' };
    const place = { lonDeg, latDeg };
    const route = { name: `Route ${index}`, attributes, measures, trailhead: place } as unknown as Route;
    return { id: null, route };
  });
  const cohorts = Array.from({ length: of.cohorts }, (_, index) => ({
    id: null,
    record: {
      cohort: { name: `Cohort ${index}`, participants: 5 + Math.floor(uniform() * 9), leaders: 2 },
      outings: [],
    },
    notOn: new Set<string>(),
    ledBy: uniform() < 0.5 ? [`l${index % 15}`] : [],
    hasOwnVehicles: false,
  }));
  const dates = Array.from(
    { length: of.dates },
    (_, index) => `2026-07-${String(index + 1).padStart(2, '0')}`,
  );
  for (const { notOn } of cohorts) for (const date of dates) if (uniform() < 0.2) notOn.add(date);
  const vehicles = Array.from({ length: of.vehicles }, (_, index) => ({
    name: `v${index}`,
    seats: among(SEATS, 8),
    clearance: index % 3 === 0 ? ('any' as const) : ('high' as const),
  }));
  const question: SeasonQuestion = { name: null, dates, cohorts, routes, vehicles, limits: [] };
  const pairings: Pairing[] = cohorts.flatMap((_, cohort) =>
    routes.flatMap((_, route) => {
      const suits = uniform() < of.fitting;
      const base = 0.55 + 0.4 * uniform();
      return dates.map((_, date) => ({
        cohort,
        date,
        route,
        verdict: suits ? ('fits' as const) : ('ruledOut' as const),
        // The same route differs a little from day to day, as detraining and daylight make it.
        score: Math.min(1, base + 0.01 * normal()),
        ruling: [],
      }));
    }),
  );
  return seasonProblem(question, pairings, DESIGN).problem;
}

const SIZE = { cohorts: 40, dates: 12, routes: 150, trailheads: 45, fitting: 0.3 };

export const CASES: readonly BoardCase[] = [
  { ...SIZE, name: 'room for all', vehicles: 12, partiesPerDay: 3 },
  { ...SIZE, name: 'tight permits', vehicles: 12, partiesPerDay: 1, trailheads: 12 },
  { ...SIZE, name: 'scarce vehicles', vehicles: 4, partiesPerDay: 3 },
  { ...SIZE, name: 'both, and few routes fit', vehicles: 4, partiesPerDay: 1, trailheads: 12, fitting: 0.05 },
];

/** One small season with two limits that bind. */
export const SMOKE_CASES: readonly BoardCase[] = [
  { ...SIZE, name: 'small', cohorts: 6, dates: 3, routes: 12, trailheads: 5, vehicles: 3, partiesPerDay: 1 },
];
