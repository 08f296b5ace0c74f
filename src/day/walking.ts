import { addRock, addStops } from '../capability/extra-time.ts';
import { type PaceModel, predictMoving, type TimeEstimate } from '../capability/pace-model.ts';
import { effectiveQuantities, NO_WALK, plus, type Quantities, surfacesOf } from '../capability/quantities.ts';
import { rockOn } from '../capability/rock.ts';
import type { Design } from '../design.ts';
import type { Route } from '../route/describe-route.ts';
import type { Piece } from '../route/pieces.ts';
import { heightsAlong, lastNotAbove } from '../route/place-at.ts';

const Z90 = 1.645; // the gain band is read as a 90 % interval

/** A piece that gains or loses less is cut by its length alone. */
const LEAST_HEIGHT_M = 1;

/** A part of a route as walked, to be timed alone or together with others. */
export interface Stretch {
  /** Trail-equivalent, slowed by height and ground. */
  readonly walk: Quantities;
  readonly climbM: number;
  readonly lengthM: number;
  /** Doubt of the ground times length: the mean over the stretch is this over `lengthM`. */
  readonly groundDoubtM: number;
  /** Length on which hands are needed. */
  readonly rockM: number;
}

const NOWHERE: Stretch = { walk: NO_WALK, climbM: 0, lengthM: 0, groundDoubtM: 0, rockM: 0 };

const joined = (a: Stretch, b: Stretch): Stretch => ({
  walk: plus(a.walk, b.walk),
  climbM: a.climbM + b.climbM,
  lengthM: a.lengthM + b.lengthM,
  groundDoubtM: a.groundDoubtM + b.groundDoubtM,
  rockM: a.rockM + b.rockM,
});

/** A piece walked the other way: what it climbed it drops. */
const reversed = (piece: Piece): Piece => ({
  ...piece,
  climbM: piece.dropM,
  dropM: piece.climbM,
  descending: !piece.descending && piece.climbM > 0,
});

/** How a group's pace times the parts of one route. Distances in metres from the start, times in moving minutes. */
export interface Walking {
  readonly onward: (fromM: number, toM: number) => Stretch;
  /** The same ground the other way: from `fromM` back to `toM`, which lies nearer to the start. */
  readonly back: (fromM: number, toM: number) => Stretch;
  readonly timeOf: (...stretches: readonly Stretch[]) => TimeEstimate;
}

/** Doubt of a route's gain (standard deviation) as a share of its climb. */
export function climbDoubtOf({ measures: { gainM }, pieces }: Pick<Route, 'measures' | 'pieces'>): number {
  const totalClimbM = pieces.reduce((sum, piece) => sum + piece.climbM, 0);
  return gainM === null || totalClimbM === 0 ? 0 : (gainM.high - gainM.low) / 2 / Z90 / totalClimbM;
}

/**
 * Times for the parts of a route, the doubt of its gain and ground carried in.
 * Long, as its parts share what is worked out once of each piece.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: its parts share what is worked out once of each piece
export function walkingOf(route: Route, pace: PaceModel, design: Design): Walking {
  const surfaceOf = surfacesOf(route.attributes);
  const slowing = { surfaceOf, trainingElevationM: pace.trainingElevationM, surfaces: design.pace.surface };
  const climbDoubt = climbDoubtOf(route);
  const rockBetween = rockOn(route, design);

  // Heights and stations are looked at only where a piece is cut.
  let heights: ReturnType<typeof heightsAlong> | null = null;
  const heightAt = (atM: number): number | null => {
    heights ??= heightsAlong(route.profile);
    return heights(atM);
  };
  let stations: readonly number[] | null = null;
  const stationM = (): readonly number[] => {
    stations ??= route.profile.map(([distanceM]) => distanceM);
    return stations;
  };
  /** Share of a piece that lies before `atM`: of its length, and of its height, which need not be even along it. */
  const before = (piece: Piece, atM: number): { length: number; height: number } => {
    if (atM <= piece.fromM) return { length: 0, height: 0 };
    if (atM >= piece.toM) return { length: 1, height: 1 };
    const length = (atM - piece.fromM) / (piece.toM - piece.fromM);
    const from = heightAt(piece.fromM);
    const to = heightAt(piece.toM);
    if (from === null || to === null || Math.abs(to - from) < LEAST_HEIGHT_M) {
      return { length, height: length };
    }
    // The most reached so far: a dip that the piece smooths over must not take back time already walked.
    let height = 0;
    const reach = (heightM: number | null): void => {
      if (heightM !== null) height = Math.max(height, (heightM - from) / (to - from));
    };
    const along = stationM();
    for (let i = lastNotAbove(along, piece.fromM) + 1; (along[i] ?? atM) < atM; i += 1) {
      reach(route.profile[i]?.[1] ?? null);
    }
    reach(heightAt(atM));
    return { length, height: Math.min(1, height) };
  };

  const slowed = (piece: Piece): Quantities => effectiveQuantities(piece, slowing);
  // Every checkpoint is reached over the pieces before it, again and again.
  const known: Quantities[] = [];
  const slowedOnward = (piece: Piece, index: number): Quantities => {
    known[index] ??= slowed(piece);
    return known[index];
  };

  /** The part of a piece that lies between two distances. */
  const partOf = (piece: Piece, walked: Piece, whole: Quantities, lowM: number, highM: number): Stretch => {
    const [start, end] = [before(piece, lowM), before(piece, highM)];
    const share = end.length - start.length;
    const rise = end.height - start.height;
    return {
      walk: {
        upKm: whole.upKm * share,
        upM: whole.upM * rise,
        downKm: whole.downKm * share,
        downM: whole.downM * rise,
      },
      climbM: walked.climbM * rise,
      lengthM: walked.horizontalM * share,
      groundDoubtM: design.pace.surface[surfaceOf(piece)].doubt * piece.horizontalM * share,
      rockM: rockBetween(Math.max(lowM, piece.fromM), Math.min(highM, piece.toM)),
    };
  };

  const onward = (fromM: number, toM: number, first = 0, walkedBefore = NOWHERE): Stretch => {
    let sum = walkedBefore;
    for (let index = first; index < route.pieces.length; index += 1) {
      const piece = route.pieces[index];
      if (piece === undefined || piece.toM <= fromM) continue;
      if (piece.fromM >= toM) break;
      sum = joined(sum, partOf(piece, piece, slowedOnward(piece, index), fromM, toM));
    }
    return sum;
  };

  const back = (fromM: number, toM: number): Stretch => {
    let sum = NOWHERE;
    for (const piece of route.pieces) {
      if (piece.toM <= toM) continue;
      if (piece.fromM >= fromM) break;
      const walked = reversed(piece);
      sum = joined(sum, partOf(piece, walked, slowed(walked), toM, fromM));
    }
    return sum;
  };

  /** The way over the first pieces, from the start: over none, one, two and so on, as far as it was asked for. */
  const begun: Stretch[] = [NOWHERE];
  const fromStart = (toM: number): Stretch => {
    let sum = NOWHERE;
    let count = 0;
    for (const piece of route.pieces) {
      if (piece.toM <= 0 || piece.fromM >= toM || piece.toM > toM) break;
      const soFar = sum;
      begun[count + 1] ??= joined(soFar, partOf(piece, piece, slowedOnward(piece, count), 0, toM));
      count += 1;
      sum = begun[count] ?? soFar;
    }
    return onward(0, toM, count, sum);
  };

  return {
    onward: (fromM, toM) => (fromM === 0 ? fromStart(toM) : onward(fromM, toM)),
    back,
    timeOf: (...stretches) => {
      const all = stretches.reduce(joined, NOWHERE);
      const moving = predictMoving(pace, all.walk, {
        groundDoubt: all.lengthM > 0 ? all.groundDoubtM / all.lengthM : 0,
        climbDoubtM: all.climbM * climbDoubt,
      });
      const onRock = { ...moving };
      addRock(onRock, all.rockM, pace);
      return onRock;
    },
  };
}

/** Moving time with the group's stops, and a meal of so many minutes, added. */
export function withStops(moving: TimeEstimate, pace: PaceModel, mealMin = 0): TimeEstimate {
  const elapsed = { ...moving };
  addStops(elapsed, pace, mealMin);
  return elapsed;
}

/** Minutes of the meal at the high point; 0 on a day too short for one. */
export function mealMinOf(wholeMovingMin: number, design: Design['day']): number {
  return wholeMovingMin >= design.mealFromMovingMin ? design.mealMin : 0;
}
