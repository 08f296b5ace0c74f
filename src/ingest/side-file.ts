import { EngineError, type ErrorCode, inFileSync } from '../errors.ts';
import { message } from '../message.ts';
import { parseJson } from './json-text.ts';
import { INGEST_LIMITS } from './limits.ts';

/**
 * Reads the JSON of a file beside tracks or tiles: NAME.route.json, a cohort, a season, settings.
 * @throws EngineError `empty-body`, `body-too-large`, a JSON error (`code` where it is nested too deep) or what `check`
 * throws, each with the file
 */
export function readSideFile<T>(
  text: string,
  file: string,
  code: ErrorCode,
  check: (value: unknown) => T,
): T {
  return inFileSync(file, () => {
    checkLength(text);
    return check(parseJson(text.replace(/^\uFEFF/, ''), code));
  });
}

function checkLength(text: string): void {
  if (text.trim() === '')
    throw new EngineError('empty-body', 'The file is empty. Write a JSON object in { }.');
  const limit = INGEST_LIMITS.sideFileLength;
  if (text.length > limit) {
    throw new EngineError(
      'body-too-large',
      message`The file has ${text.length} characters; at most ${limit} are read. Tracks belong into files of their own.`,
      { limit, found: text.length },
    );
  }
}
