import { weightedMean } from '../array.ts';
import { harderClass } from '../ingest/rock-class.ts';
import type { Note } from '../notes.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Outing, TimedPart } from './outing.ts';
import { NO_WALK, plus } from './quantities.ts';

/** The sum; `null` as soon as one of them is not known. */
function sumOfAll(values: readonly (number | null)[]): number | null {
  return values.reduce((sum, value) => (sum === null || value === null ? null : sum + value), 0);
}

/** What is known, put together; `null` where nothing is. */
function ofKnown(values: readonly (number | null)[], join: (a: number, b: number) => number): number | null {
  const [first, ...more] = values.filter((value) => value !== null);
  return first === undefined ? null : more.reduce((all, value) => join(all, value), first);
}

const sum = (a: number, b: number): number => a + b;

/** One part for all that goes up, one for all that goes down, one for days known only as a whole: one day is one trial. */
function summedParts(parts: readonly TimedPart[]): TimedPart[] {
  const kindOf = ({ quantities: { upKm, downKm } }: TimedPart) =>
    downKm === 0 ? 'up' : upKm === 0 ? 'down' : 'both';
  return ['up', 'down', 'both'].flatMap((kind) => {
    const own = parts.filter((part) => kindOf(part) === kind);
    if (own.length === 0) return [];
    return [
      {
        quantities: own.map((part) => part.quantities).reduce(plus, NO_WALK),
        movingMin: own.reduce((sum, part) => sum + part.movingMin, 0),
      },
    ];
  });
}

const distinct = (notes: readonly Note[]): Note[] => [
  ...new Map(notes.map((note) => [JSON.stringify(note), note])).values(),
];

/**
 * Several walks of one day and the same people as one outing: distances, climbs and times summed, the hardest class,
 * the highest point. A climb that is not known of one is not known of the day.
 * @throws RangeError without a walk.
 */
export function oneDay(walks: readonly Outing[]): Outing {
  const [first] = walks;
  if (first === undefined) throw new RangeError('a day without a walk');
  if (walks.length === 1) return first;
  const each = <K extends keyof Outing>(key: K): Outing[K][] => walks.map((walk) => walk[key]);
  const quantities = walks.every((walk) => walk.quantities !== null)
    ? walks.map((walk) => walk.quantities ?? NO_WALK).reduce(plus, NO_WALK)
    : null;
  const climbs = walks.flatMap((walk) =>
    walk.climbElevationM === null || walk.quantities === null
      ? []
      : [[walk.climbElevationM, walk.quantities.upM] as const],
  );
  return {
    date: first.date,
    source: first.source,
    distanceM: each('distanceM').reduce(sum, 0),
    gainM: sumOfAll(each('gainM')),
    gainHighM: sumOfAll(each('gainHighM')),
    highM: ofKnown(each('highM'), Math.max),
    rockClass: each('rockClass').reduce(harderClass),
    members: first.members,
    quantities,
    parts: summedParts(walks.flatMap((walk) => walk.parts)),
    movingMin: ofKnown(each('movingMin'), sum),
    standingMin: ofKnown(each('standingMin'), sum),
    climbElevationM: quantities === null ? null : weightedMean(climbs),
    clockFromMs: ofKnown(each('clockFromMs'), Math.min),
    clockToMs: ofKnown(each('clockToMs'), Math.max),
    notes: distinct(walks.flatMap((walk) => walk.notes)),
    attribution: attributionOf(walks),
  };
}
