import { EngineError, type ErrorPlace } from '../errors.ts';
import { INGEST_LIMITS } from './limits.ts';
import { quote } from './quote.ts';
import { textPosition } from './text-position.ts';
import { FORBIDDEN_CHARACTER, isXmlCharacter, REFERENCE } from './xml-text.ts';

const LESS_THAN = 60;
const GREATER_THAN = 62;

/**
 * One linear pass over XML before any library sees it. Refuses document types, counts and lengths
 * over the limits, control characters, undefined entities, a second root and cut-off
 * files: all things that the validator lets pass, answers late or answers without a useful place.
 * `onOpen` is given each start tag's name and text as it is met, and whether it is the root's.
 * @returns the element prefixes that the file uses and never declares.
 * @throws EngineError `xml-malformed`, `xml-limits`, `doctype-not-allowed`, `not-gpx` or what `onOpen` throws.
 */
export function guardXml(
  text: string,
  onOpen: (name: string, tag: string, isRoot: boolean) => void,
): string[] {
  const { xmlElements, xmlDepth, xmlAttributes, xmlTextLength } = INGEST_LIMITS;
  const open: string[] = [];
  const prefixes = new Set<string>();
  let rootMet = false;
  let elements = 0;
  let textLength = 0;
  let nextAmpersand = text.indexOf('&');

  const checkReferences = (from: number, to: number): void => {
    if (nextAmpersand !== -1 && nextAmpersand < from) nextAmpersand = text.indexOf('&', from);
    while (nextAmpersand !== -1 && nextAmpersand < to) {
      checkReference(text, nextAmpersand);
      nextAmpersand = text.indexOf('&', nextAmpersand + 1);
    }
  };
  const addText = (from: number, to: number): void => {
    textLength += to - from;
    // White space between elements may be long; it is dropped anyway.
    if (textLength > xmlTextLength && /\S/.test(text.slice(from, to))) {
      throw overLimit(text, from, 'a text', 'characters', xmlTextLength, textLength);
    }
  };
  const skipTo = (mark: string, from: number, what: string): number => {
    const end = text.indexOf(mark, from);
    if (end === -1) throw malformed(text, text.length, `the file ends inside ${what}`);
    return end + mark.length;
  };

  let at = 0;
  for (;;) {
    const tag = text.indexOf('<', at);
    const textEnd = tag === -1 ? text.length : tag;
    if (textEnd > at) {
      if (open.length === 0) {
        const stray = text.slice(at, textEnd).search(/\S/);
        if (stray !== -1) throw malformed(text, at + stray, 'text outside the root element');
      }
      addText(at, textEnd);
      checkReferences(at, textEnd);
    }
    if (tag === -1) break;

    const kind = text[tag + 1];
    if (kind === '?') {
      at = skipTo('?>', tag + 2, 'a processing instruction');
    } else if (kind === '!') {
      if (text.startsWith('<!--', tag)) {
        at = skipTo('-->', tag + 4, 'a comment');
      } else if (text.startsWith('<![CDATA[', tag) && open.length > 0) {
        at = skipTo(']]>', tag + 9, 'a CDATA section');
        addText(tag + 9, at - 3);
      } else {
        throw declarationFault(text, tag);
      }
    } else if (kind === '/') {
      at = skipTo('>', tag + 2, 'a closing tag');
      const name = text.slice(tag + 2, at - 1).trimEnd();
      const expected = open.pop();
      if (name !== expected) {
        const wanted = expected === undefined ? 'no element is open' : `expected </${expected.slice(0, 40)}>`;
        throw malformed(text, tag, `closing tag ${quote(name)} where ${wanted}`);
      }
      textLength = 0;
    } else {
      const tagEnd = readStartTag(text, tag, checkReferences);
      if (tagEnd.attributes > xmlAttributes) {
        throw overLimit(text, tag, 'an element', 'attributes', xmlAttributes, tagEnd.attributes);
      }
      if (open.length === 0) {
        if (rootMet) throw malformed(text, tag, 'a second root element');
      }
      onOpen(tagEnd.name, text.slice(tag, tagEnd.end), !rootMet);
      rootMet = true;
      elements += 1;
      if (elements > xmlElements) throw overLimit(text, tag, 'the file', 'elements', xmlElements, elements);
      if (open.length >= xmlDepth) {
        throw overLimit(text, tag, 'the file', 'levels of elements', xmlDepth, open.length + 1);
      }
      const colon = tagEnd.name.indexOf(':');
      if (colon > 0) prefixes.add(tagEnd.name.slice(0, colon));
      if (!tagEnd.selfClosing) open.push(tagEnd.name);
      textLength = 0;
      at = tagEnd.end;
    }
  }
  const unclosed = open.at(-1);
  if (unclosed !== undefined) {
    throw malformed(text, text.length, `the file ends before </${unclosed.slice(0, 40)}>; it was cut off`);
  }
  if (!rootMet) throw malformed(text, text.length, 'the file holds no element');
  const control = text.search(FORBIDDEN_CHARACTER);
  if (control !== -1) throw malformed(text, control, 'a control character');
  return undeclared(text, prefixes);
}

interface StartTag {
  readonly name: string;
  readonly attributes: number;
  readonly selfClosing: boolean;
  readonly end: number;
}

function readStartTag(
  text: string,
  tag: number,
  checkReferences: (from: number, to: number) => void,
): StartTag {
  const { xmlTextLength } = INGEST_LIMITS;
  let nameEnd = -1;
  let attributes = 0;
  for (let i = tag + 1; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    if (code === 34 || code === 39) {
      const close = text.indexOf(code === 34 ? '"' : "'", i + 1);
      if (close === -1) throw malformed(text, i, 'a quote that is never closed');
      if (close - i - 1 > xmlTextLength) {
        throw overLimit(text, i, 'an attribute', 'characters', xmlTextLength, close - i - 1);
      }
      if (text.slice(i + 1, close).includes('<')) throw malformed(text, i, "'<' inside an attribute");
      checkReferences(i + 1, close);
      attributes += 1;
      i = close;
    } else if (code === GREATER_THAN) {
      const selfClosing = text.charCodeAt(i - 1) === 47;
      const end = nameEnd === -1 ? (selfClosing ? i - 1 : i) : nameEnd;
      const name = text.slice(tag + 1, end);
      if (name === '') throw malformed(text, tag, 'a tag without a name');
      return { name, attributes, selfClosing, end: i + 1 };
    } else if (code === LESS_THAN) {
      throw malformed(text, i, "'<' inside a tag");
    } else if (nameEnd === -1 && (code <= 32 || code === 47)) {
      nameEnd = i;
    }
  }
  throw malformed(text, text.length, 'the file ends inside a tag; it was cut off');
}

function checkReference(text: string, at: number): void {
  REFERENCE.lastIndex = at;
  const parts = REFERENCE.exec(text);
  if (parts === null) {
    const shown = quote(/^&[^\s;<&]*;?/.exec(text.slice(at, at + 24))?.[0] ?? '&');
    throw malformed(text, at, `${shown} is not defined; write &amp; for a plain "&"`);
  }
  const [, name, decimal, hex] = parts;
  if (name !== undefined) return;
  const code = decimal === undefined ? Number.parseInt(hex ?? '', 16) : Number(decimal);
  if (!isXmlCharacter(code)) throw malformed(text, at, `${quote(parts[0])} is a character that XML forbids`);
}

function declarationFault(text: string, at: number): EngineError {
  const word = text.slice(at, at + 40);
  if (/^<!doctype\s+html/i.test(word)) return htmlPage();
  if (/^<!doctype/i.test(word)) {
    return new EngineError(
      'doctype-not-allowed',
      'The file has a <!DOCTYPE> declaration. Remove it: entities and outside files are never loaded.',
      place(text, at),
    );
  }
  return malformed(text, at, 'a "<!" declaration');
}

/** The error for a web page saved under the name of a route. */
export function htmlPage(): EngineError {
  return new EngineError(
    'not-gpx',
    'The file looks like an HTML page, not a GPX file. Download the route itself, not the page that shows it.',
  );
}

function undeclared(text: string, prefixes: Set<string>): string[] {
  prefixes.delete('xml');
  if (prefixes.size === 0) return [];
  for (const [, declared] of text.matchAll(/\sxmlns:([^\s=]{1,100})\s*=/g)) {
    if (declared !== undefined) prefixes.delete(declared);
  }
  return [...prefixes];
}

function place(text: string, index: number): ErrorPlace {
  return textPosition(text, index);
}

/** The error for XML that is not well formed, with line and column of `index`. */
function malformed(text: string, index: number, what: string): EngineError {
  const { line, column } = textPosition(text, index);
  return malformedAt(line, column, what);
}

/** The same where line and column are known. */
export function malformedAt(line: number, column: number, what: string): EngineError {
  return new EngineError(
    'xml-malformed',
    `The XML is broken at line ${line}, column ${column}: ${what}. Export the file again.`,
    { line, column },
  );
}

function overLimit(
  text: string,
  index: number,
  holder: string,
  unit: string,
  limit: number,
  found: number,
): EngineError {
  const { line, column } = textPosition(text, index);
  return new EngineError(
    'xml-limits',
    `At line ${line}, column ${column}, ${holder} has more than ${limit} ${unit}. Export the route alone, without other data.`,
    { line, column, limit, found },
  );
}
