import { findNodeAtLocation, type JSONPath, parseTree, printParseErrorCode, visit } from 'jsonc-parser';
import { EngineError, type ErrorCode } from '../errors.ts';
import { message } from '../message.ts';
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
  if (/__proto__|constructor|\\u/.test(text)) refuseForbiddenKeys(text);
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
      if (containers > INGEST_LIMITS.jsonContainers) {
        const most = INGEST_LIMITS.jsonContainers;
        throw new EngineError(
          'too-many-points',
          message`The JSON holds more than ${most} objects and lists. Export the route alone, one point every ${{ few: 'metres' }}.`,
          { ...textPosition(text, i), limit: most, found: containers },
        );
      }
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

/**
 * The index of the first number, word or text at which a text stops being JSON (RFC 8259); the text's length where it
 * ends too early or is JSON. JSON.parse names no index in half of its messages.
 */
export function jsonFaultIndex(text: string): number {
  let found = text.length;
  // Thrown, or the parser would go on and list a fault for every word of what is no JSON at all.
  const end = new Error('found');
  const onError = (code: number, offset: number, length: number): void => {
    const isCutOff = printParseErrorCode(code) === 'UnexpectedEndOfString' && offset + length >= text.length;
    found = isCutOff ? text.length : offset;
    throw end;
  };
  try {
    visit(text, { onError }, { disallowComments: true });
  } catch (thrown) {
    if (thrown !== end) throw thrown;
  }
  return found;
}

function malformedJson(text: string): EngineError {
  const at = jsonFaultIndex(text);
  const { line, column } = textPosition(text, at);
  const found = text.slice(at, at + 100);
  const notJson = /^-?(?:NaN|Infinity)/.exec(found)?.[0];
  const [shown = ''] = /^(?:"[^"]*"|.)/su.exec(found) ?? [];
  const what =
    notJson !== undefined
      ? `${notJson} is not JSON; write null`
      : shown === ''
        ? 'the text ends too early'
        : `unexpected ${quote(shown)}`;
  return new EngineError(
    'json-malformed',
    message`The JSON is broken at line ${line}, column ${column}: ${what}. Check it with a JSON editor.`,
    { line, column },
  );
}

/** Refuses `__proto__` anywhere, and `constructor` with a `prototype` inside. */
function refuseForbiddenKeys(text: string): void {
  const pointerOf = (path: JSONPath): string => path.map(pointerStep).join('');
  visit(text, {
    // biome-ignore lint/complexity/useMaxParams: the parameters are the parser’s
    onObjectProperty(key, _offset, _length, _line, _column, path) {
      if (key === '__proto__') throw forbiddenKey(pointerOf([...path(), key]), key);
      if (key === 'prototype' && path().at(-1) === 'constructor')
        throw forbiddenKey(pointerOf(path()), 'constructor');
    },
  });
}

function forbiddenKey(pointer: string, key: string): EngineError {
  return new EngineError(
    'json-forbidden-key',
    message`The key ${quote(key)} at ${pointer} is not allowed. Remove it.`,
    { pointer },
  );
}

/** The line, from 1, on which what a JSON Pointer names stands in a text that is JSON; `null`: it is not in it. */
export function pointerLine(text: string, pointer: string): number | null {
  const steps = pointer.split('/').slice(1);
  let node = steps.length === 0 ? undefined : parseTree(text);
  for (const step of steps) {
    const key = step.replaceAll('~1', '/').replaceAll('~0', '~');
    node = node && findNodeAtLocation(node, [node.type === 'array' ? Number(key) : key]);
  }
  return node === undefined ? null : textPosition(text, node.offset).line;
}
