import { isHarderClass } from '../ingest/rock-class.ts';
import type { Note } from '../notes.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Outing, TimedPart } from './outing.ts';
import { NO_WALK, plus } from './quantities.ts';

/** The sum; `null` as soon as one of them is not known. */
function sumOfAll(values: readonly (number | null)[]): number | null {
  return values.reduce((sum, value) => (sum === null || value === null ? null : sum + value), 0);
}

function known(values: readonly (number | null)[]): number[] {
  return values.filter((value) => value !== null);
}

/** The sum of what is known; `null` where nothing is. */
function sumOfKnown(values: readonly (number | null)[]): number | null {
  const some = known(values);
  return some.length === 0 ? null : some.reduce((sum, value) => sum + value, 0);
}

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

/** The harder of two classes; a stated one beside one that is not. */
function harderClass(one: string | null, other: string | null): string | null {
  if (one === null || other === null) return one ?? other;
  return isHarderClass(other, one) ? other : one;
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
  const each = <T>(value: (outing: Outing) => T): T[] => walks.map(value);
  const quantities = walks.every((walk) => walk.quantities !== null)
    ? each((walk) => walk.quantities ?? NO_WALK).reduce(plus, NO_WALK)
    : null;
  const climbed = walks.filter((walk) => (walk.quantities?.upM ?? 0) > 0 && walk.climbElevationM !== null);
  const climbM = climbed.reduce((sum, walk) => sum + (walk.quantities?.upM ?? 0), 0);
  const heightM = climbed.reduce(
    (sum, walk) => sum + (walk.climbElevationM ?? 0) * (walk.quantities?.upM ?? 0),
    0,
  );
  const heights = known(each((walk) => walk.highM));
  const starts = known(each((walk) => walk.clockFromMs));
  const ends = known(each((walk) => walk.clockToMs));
  return {
    date: first.date,
    source: first.source,
    distanceM: each((walk) => walk.distanceM).reduce((sum, value) => sum + value, 0),
    gainM: sumOfAll(each((walk) => walk.gainM)),
    gainHighM: sumOfAll(each((walk) => walk.gainHighM)),
    highM: heights.length === 0 ? null : Math.max(...heights),
    rockClass: each((walk) => walk.rockClass).reduce(harderClass),
    members: first.members,
    quantities,
    parts: summedParts(walks.flatMap((walk) => walk.parts)),
    movingMin: sumOfKnown(each((walk) => walk.movingMin)),
    standingMin: sumOfKnown(each((walk) => walk.standingMin)),
    climbElevationM: quantities !== null && climbM > 0 ? heightM / climbM : null,
    clockFromMs: starts.length === 0 ? null : Math.min(...starts),
    clockToMs: ends.length === 0 ? null : Math.max(...ends),
    notes: distinct(walks.flatMap((walk) => walk.notes)),
    attribution: attributionOf(walks),
  };
}
