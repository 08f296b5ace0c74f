import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import Type from 'typebox';
import { Compile } from 'typebox/compile';
import { isRealDate } from '../earth/local-time.ts';
import { EngineError, inFile, systemCode } from '../errors.ts';
import { decodeText } from '../ingest/decode.ts';
import { tidyText } from '../ingest/names.ts';
import { schemaFault } from '../ingest/schema-fault.ts';
import { readSideFile } from '../ingest/side-file.ts';
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

/** Checks what a settings file holds; the file is what then states the unit. */
const checkSettings =
  (path: string) =>
  (value: unknown): Stated => {
    if (!validator.Check(value)) {
      const fault = schemaFault(schema, value, '');
      throw new EngineError(
        'bad-settings',
        fault === null
          ? 'cannot be used'
          : fault.pointer === ''
            ? message`${fault.departure}`
            : message`${fault.pointer} ${fault.departure}`,
      );
    }
    const { unit, verticalReference, attribution, licence, date } = tidyText(value, '');
    if (date !== undefined && !isRealDate(date))
      throw new EngineError(
        'bad-settings',
        message`/date must be a day such as "2023-05-31"; found "${date}"`,
      );
    return {
      ...NOTHING_STATED,
      unit: unit ?? null,
      unitBy: unit === undefined ? null : path,
      verticalReference: verticalReference ?? null,
      attribution: [attribution ?? []].flat(),
      licence: licence ?? null,
      dateMs: date === undefined ? null : Date.parse(date),
    };
  };

/**
 * What a folder's `krummholz-dem.json` states; nothing where there is none.
 * @throws EngineError `bad-settings` or a JSON error, with the file.
 */
export async function folderSettings(folder: string): Promise<Stated> {
  const path = join(folder, SETTINGS_NAME);
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    const code = systemCode(error);
    if (code === 'ENOENT' || code === 'ENOTDIR') return NOTHING_STATED;
    throw new EngineError('file-unreadable', message`cannot be read (${code})`, { file: path });
  }
  return inFile(path, () => readSideFile(decodeText(bytes).text, path, 'bad-settings', checkSettings(path)));
}
