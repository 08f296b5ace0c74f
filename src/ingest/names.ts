import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { isObject, pointerStep } from './json-text.ts';
import { INGEST_LIMITS } from './limits.ts';

export const UNNAMED = 'Unnamed route';

// Unicode Standard Annex 9: marks, embeddings, overrides and isolates that can turn a line of text around.
const BIDI_CONTROLS = /[\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/g;
const CONTROLS = /[\p{Cc}\p{Zl}\p{Zp}]+/gu;
const NOTHING_TO_SEE = /^[\s\p{Cf}\p{Zs}]*$/u;

/**
 * One line of text as it is kept: NFC, bidi controls stripped, control characters and runs of white
 * space turned into one space, trimmed. Empty where nothing visible is left.
 * @throws EngineError `bad-text` where half of a surrogate pair stands alone.
 */
export function cleanText(text: string, pointer: string): string {
  if (/\p{Cs}/u.test(text)) {
    throw new EngineError(
      'bad-text',
      message`The text at ${pointer} holds half of a character (an unpaired surrogate). Write it again.`,
      { pointer },
    );
  }
  const clean = text
    .normalize('NFC')
    .replace(BIDI_CONTROLS, '')
    .replace(CONTROLS, ' ')
    .replace(/\s+/gu, ' ')
    .trim();
  return NOTHING_TO_SEE.test(clean) ? '' : clean;
}

/**
 * A name as it is kept; empty where the file's name is blank.
 * @throws EngineError `bad-text`, or `name-too-long` over 200 code points.
 */
export function cleanName(text: string, pointer: string): string {
  const name = cleanText(text, pointer);
  const limit = INGEST_LIMITS.nameLength;
  const found = [...name].length;
  if (found > limit) {
    throw new EngineError(
      'name-too-long',
      message`The name at ${pointer} has ${found} characters; shorten it to ${limit} at most.`,
      { pointer, limit, found },
    );
  }
  return name;
}

/** The file's own name without folder and ending, or `null`. Never used as a path. */
export function nameFromFile(fileName: string | null): string | null {
  if (fileName === null) return null;
  const base = fileName.slice(-4096).split(/[/\\]/).at(-1) ?? '';
  const clean = cleanText(base.replace(/\p{Cs}/gu, ''), '').replace(/\.[A-Za-z0-9]{1,8}$/, '');
  const cut = [...clean].slice(0, INGEST_LIMITS.nameLength).join('').trim();
  return cut === '' ? null : cut;
}

/** Tells equal names apart: the second becomes `NAME (2)`. Order is kept. */
export function distinctNames(names: readonly string[]): string[] {
  const taken = new Set(names);
  const used = new Set<string>();
  return names.map((name) => {
    let distinct = name;
    for (let n = 2; used.has(distinct) || (distinct !== name && taken.has(distinct)); n += 1) {
      const suffix = ` (${n})`;
      distinct = `${[...name].slice(0, INGEST_LIMITS.nameLength - suffix.length).join('')}${suffix}`;
    }
    used.add(distinct);
    return distinct;
  });
}

/**
 * The same JSON value with every text cleaned as names are, line breaks kept. For values whose shape
 * a schema has passed: the walk is as deep as the schema.
 * @throws EngineError `bad-text`.
 */
export const tidyText = <T>(value: T, pointer: string): T => tidy(value, pointer) as T;

function tidy(value: unknown, pointer: string): unknown {
  if (typeof value === 'string') {
    return value
      .split(/\r\n?|\n/)
      .map((line) => cleanText(line, pointer))
      .join('\n')
      .trim();
  }
  if (Array.isArray(value)) return value.map((item, index) => tidy(item, pointer + pointerStep(index)));
  if (!isObject(value)) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [key, tidy(inner, pointer + pointerStep(key))]),
  );
}
