import { EngineError, type ErrorCode } from '../errors.ts';
import { message } from '../message.ts';
import { jsonFaultIndex } from './json-fault.ts';
import { INGEST_LIMITS } from './limits.ts';
import { quote } from './quote.ts';
import { textPosition } from './text-position.ts';

/**
 * Parses JSON text that a user wrote. Nesting and size are measured on the text first, so that no
 * parser and no later walk ever meets a deep value; keys that could reach a prototype are refused.
 * Duplicate keys: the last one wins, as in every JSON parser.
 * @throws EngineError `json-malformed` with line and column, `json-forbidden-key`, `too-many-points`, or `depthCode`.
 */
export function parseJson(text: string, depthCode: ErrorCode): unknown {
  checkStructure(text, depthCode);
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw malformedJson(text);
  }
  // The walk costs more than the parsing; a key needs one of these to be forbidden.
  if (/__proto__|constructor|\\u/.test(text)) refuseForbiddenKeys(value);
  return value;
}

/** One step of a JSON Pointer (RFC 6901). */
export function pointerStep(key: string | number): string {
  return `/${String(key).slice(0, 60).replaceAll('~', '~0').replaceAll('/', '~1')}`;
}

/** "at POINTER" in a message, or what stands for the whole file. */
export function atPointer(pointer: string): string {
  return pointer === '' ? 'of the file' : `at ${pointer}`;
}

export function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function checkStructure(text: string, depthCode: ErrorCode): void {
  const limit = INGEST_LIMITS.jsonDepth;
  let depth = 0;
  let containers = 0;
  for (let i = 0; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    if (code === 0x22) {
      i += 1;
      while (i < text.length && text.charCodeAt(i) !== 0x22) i += text.charCodeAt(i) === 0x5c ? 2 : 1;
    } else if (code === 0x7b || code === 0x5b) {
      depth += 1;
      containers += 1;
      if (containers > INGEST_LIMITS.jsonContainers) throw tooMany(text, i);
      if (depth > limit) {
        const { line, column } = textPosition(text, i);
        throw new EngineError(
          depthCode,
          message`The JSON is nested more than ${limit} levels deep at line ${line}, column ${column}. Write it flatter.`,
          { line, column, limit, found: depth },
        );
      }
    } else if (code === 0x7d || code === 0x5d) {
      depth -= 1;
    }
  }
}

function tooMany(text: string, index: number): EngineError {
  const { line, column } = textPosition(text, index);
  const limit = INGEST_LIMITS.jsonContainers;
  return new EngineError(
    'too-many-points',
    message`The JSON holds more than ${limit} objects and lists. Export the route alone, one point every ${{ few: 'metres' }}.`,
    { line, column, limit, found: limit + 1 },
  );
}

function malformedJson(text: string): EngineError {
  const at = jsonFaultIndex(text);
  const { line, column } = textPosition(text, at);
  const notJson = /^-?(?:NaN|Infinity)/.exec(text.slice(at, at + 12))?.[0];
  const what =
    notJson !== undefined
      ? `${notJson} is not JSON; write null`
      : at >= text.length
        ? 'the text ends too early'
        : `unexpected ${quote(String.fromCodePoint(text.codePointAt(at) ?? 0x3f))}`;
  return new EngineError(
    'json-malformed',
    message`The JSON is broken at line ${line}, column ${column}: ${what}. Check it with a JSON editor.`,
    { line, column },
  );
}

interface Place {
  readonly value: object;
  readonly key: string | number;
  readonly parent: Place | null;
}

/** Walks without recursion; the depth is bounded already. */
function refuseForbiddenKeys(root: unknown): void {
  if (typeof root !== 'object' || root === null) return;
  const stack: Place[] = [{ value: root, key: '', parent: null }];
  for (let place = stack.pop(); place !== undefined; place = stack.pop()) {
    const { value } = place;
    if (Array.isArray(value)) {
      for (let i = 0; i < value.length; i += 1) {
        const child: unknown = value[i];
        // Positions, by far the most of it, hold numbers alone.
        if (typeof child === 'object' && child !== null && !isPosition(child)) {
          stack.push({ value: child, key: i, parent: place });
        }
      }
      continue;
    }
    for (const [key, child] of Object.entries(value)) {
      const forbidden =
        key === '__proto__' ||
        (key === 'constructor' && isObject(child) && Object.hasOwn(child, 'prototype'));
      if (forbidden) throw forbiddenKey(pointerOf(place) + pointerStep(key), key);
      if (typeof child === 'object' && child !== null) stack.push({ value: child, key, parent: place });
    }
  }
}

function isPosition(value: object): boolean {
  return Array.isArray(value) && value.length <= 8 && value.every((item) => typeof item !== 'object');
}

function pointerOf(place: Place): string {
  let pointer = '';
  for (let at = place; at.parent !== null; at = at.parent) pointer = pointerStep(at.key) + pointer;
  return pointer;
}

function forbiddenKey(pointer: string, key: string): EngineError {
  return new EngineError(
    'json-forbidden-key',
    message`The key ${quote(key)} at ${pointer} is not allowed. Remove it.`,
    { pointer },
  );
}
