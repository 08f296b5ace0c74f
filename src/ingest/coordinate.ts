import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { decimalHint } from './decimal.ts';
import { quote } from './quote.ts';

/**
 * The error for a latitude out of range; says so when the pair would be right the other way round.
 * Whether a pair that is in range is swapped only the terrain can tell.
 */
export function latitudeOutOfRange(latDeg: number, lonDeg: number | null, pointer: string): EngineError {
  const swapped = lonDeg !== null && Math.abs(lonDeg) <= 90 && Math.abs(latDeg) <= 180;
  const advice = swapped
    ? 'Latitude and longitude look swapped; exchange them.'
    : 'Latitudes run from -90 to 90; write decimal degrees.';
  return new EngineError(
    'bad-coordinate',
    message`The latitude ${latDeg} at ${pointer} is out of range. ${advice}`,
    { pointer, limit: 90, found: latDeg },
  );
}

export function longitudeOutOfRange(lonDeg: number, pointer: string): EngineError {
  return new EngineError(
    'bad-coordinate',
    message`The longitude ${lonDeg} at ${pointer} is out of range. Longitudes run from -180 to 180; write decimal degrees.`,
    { pointer, limit: 180, found: lonDeg },
  );
}

/** The error for a coordinate that is missing, or no number at all. */
export function noNumber(what: string, text: string | undefined, pointer: string): EngineError {
  const reason =
    text === undefined
      ? message`The ${what} at ${pointer} is missing. Export the file again.`
      : message`The ${what} ${quote(text)} at ${pointer} is not a number. ${decimalHint(text)}`;
  return new EngineError('bad-coordinate', reason, { pointer });
}
