import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import Type, { type Static } from 'typebox';
import { Compile } from 'typebox/compile';
import { isRealDate } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import { decodeText } from '../ingest/decode.ts';
import { parseJson } from '../ingest/json-text.ts';
import { tidyText } from '../ingest/names.ts';
import { schemaFault } from '../ingest/schema-fault.ts';
import { checkSideFileLength } from '../ingest/side-file.ts';
import { message } from '../message.ts';
import { closed, oneOf } from '../schema.ts';
import { NOTHING_STATED, type Stated } from './stated.ts';

/** The file that states what the tiles of its folder, and of the folders in it, leave open. */
const SETTINGS_NAME = 'krummholz-dem.json';

const LONGEST_TEXT = 500;
const text = Type.String({ minLength: 1, maxLength: LONGEST_TEXT });

const schema = closed({
  unit: Type.Optional(oneOf(['m', 'ft', 'ftUS'])),
  verticalReference: Type.Optional(text),
  attribution: Type.Optional(
    Type.Union([text, Type.Array(text, { maxItems: 10 })], { description: 'a text or a list of texts' }),
  ),
  licence: Type.Optional(text),
  date: Type.Optional(Type.String({ description: 'a day such as "2023-05-31"' })),
});
const validator = Compile(schema);

function statedBy(value: Static<typeof schema>, path: string): Stated {
  const { unit, verticalReference, attribution, licence, date } = tidyText(value, '');
  if (date !== undefined && !isRealDate(date))
    throw new EngineError('bad-settings', message`/date must be a day such as "2023-05-31"; found "${date}"`);
  return {
    ...NOTHING_STATED,
    unit: unit ?? null,
    unitBy: unit === undefined ? null : path,
    verticalReference: verticalReference ?? null,
    attribution: typeof attribution === 'string' ? [attribution] : (attribution ?? []),
    licence: licence ?? null,
    dateMs: date === undefined ? null : Date.parse(date),
  };
}

/**
 * What a folder's `krummholz-dem.json` states; nothing where there is none.
 * @throws EngineError `bad-settings` or a JSON error, with the file.
 */
export async function settingsBeside(folder: string): Promise<Stated> {
  const path = join(folder, SETTINGS_NAME);
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    const code = (error as { code?: unknown }).code;
    if (code === 'ENOENT' || code === 'ENOTDIR') return NOTHING_STATED;
    throw new EngineError('file-unreadable', message`cannot be read (${String(code)})`, { file: path });
  }
  try {
    const { text: json } = decodeText(bytes);
    checkSideFileLength(json);
    const value = parseJson(json, 'bad-settings');
    if (validator.Check(value)) return statedBy(value, path);
    const fault = schemaFault(schema, value, '');
    throw new EngineError(
      'bad-settings',
      fault === null
        ? 'cannot be used'
        : fault.pointer === ''
          ? message`${fault.departure}`
          : message`${fault.pointer} ${fault.departure}`,
    );
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(path) : error;
  }
}
