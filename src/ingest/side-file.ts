import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { INGEST_LIMITS } from './limits.ts';

/** @throws EngineError `empty-body` or `body-too-large` for a NAME.route.json or a cohort file. */
export function checkSideFileLength(text: string): void {
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
