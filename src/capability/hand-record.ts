import { EngineError } from '../errors.ts';
import type { OutingInput } from '../ingest/cohort-file.ts';
import { message } from '../message.ts';
import { M_PER_FT, M_PER_MILE } from '../units.ts';
import type { HandRecord } from './hand-outing.ts';

/** Rise over run of a hill or stair whose length nobody gave (design: a stair of about 27°). */
const REPEATS_SLOPE = 0.5;

/** A way to give a figure: the field's name, what stands in it, and metres for one of its unit. */
type Way = readonly [string, number | null | undefined, number];

/** The one of several ways in which a figure is given, in metres; `null` where none is. */
function oneOf(ways: readonly Way[]): number | null {
  const given = ways.flatMap(([name, value, unitM]) =>
    value == null ? [] : [{ name, metres: value * unitM }],
  );
  const [only, other] = given;
  if (only !== undefined && other !== undefined) {
    throw new EngineError(
      'bad-outing',
      message`${only.name} and ${other.name} say the same thing: give one of them`,
      {
        pointer: `/${other.name}`,
      },
    );
  }
  return only?.metres ?? null;
}

/**
 * A day entered by hand, in metres: from metres, kilometres, miles or feet, or as a hill or stair of some height
 * climbed a number of times.
 * @throws EngineError `bad-outing` where a figure is given twice or distance and climb are not both known.
 */
export function handRecordOf(input: OutingInput): HandRecord {
  const distanceM = oneOf([
    ['distanceM', input.distanceM, 1],
    ['distanceKm', input.distanceKm, 1000],
    ['distanceMi', input.distanceMi, M_PER_MILE],
  ]);
  const gainM = oneOf([
    ['gainM', input.gainM, 1],
    ['gainFt', input.gainFt, M_PER_FT],
  ]);
  const maxElevationM = oneOf([
    ['maxElevationM', input.maxElevationM, 1],
    ['maxElevationFt', input.maxElevationFt, M_PER_FT],
  ]);
  const known = {
    date: input.date,
    movingMin: input.movingMin ?? null,
    standingMin: input.standingMin ?? null,
    maxElevationM,
    rockClass: input.rockClass ?? null,
    members: input.members ?? null,
  };
  if (input.repeats != null) {
    const heightM = oneOf([
      ['heightM', input.repeats.heightM, 1],
      ['heightFt', input.repeats.heightFt, M_PER_FT],
    ]);
    if (heightM === null || distanceM !== null || gainM !== null) {
      throw new EngineError(
        'bad-outing',
        'repeats need heightM or heightFt and times, and then no distance or climb beside them',
        { pointer: '/repeats' },
      );
    }
    const { times } = input.repeats;
    const lengthM = input.repeats.lengthM ?? heightM / REPEATS_SLOPE;
    return { ...known, distanceM: 2 * times * lengthM, gainM: times * heightM, repeats: true };
  }
  if (distanceM === null || gainM === null) {
    throw new EngineError(
      'bad-outing',
      'an outing entered by hand needs its distance (distanceM, distanceKm or distanceMi) and its climb (gainM or gainFt), or repeats',
    );
  }
  return { ...known, distanceM, gainM, lossM: input.lossM ?? null };
}
