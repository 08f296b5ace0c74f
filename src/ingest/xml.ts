import { SaxesParser } from 'saxes';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { INGEST_LIMITS } from './limits.ts';
import { quote } from './quote.ts';
import { textPosition } from './text-position.ts';

/** By name, without a prototype. */
export type XmlAttributes = Readonly<Record<string, string>>;

/** What is met on the way through a document; the root is at depth 1. */
export interface XmlVisitor {
  /** The root's name, before its attributes are read. */
  root(name: string): void;
  /** @returns `false` to pass over all that the element holds. */
  open(name: string, depth: number, attributes: XmlAttributes): boolean;
  /** Text right inside the element at `depth`, in pieces where comments, CDATA or elements split it. */
  text(value: string, depth: number): void;
}

// No route has them; refused as in JSON, although nothing here keeps what it reads under its name.
const FORBIDDEN_NAMES = ['__proto__', 'constructor', 'prototype'];

/**
 * Walks through XML, which has to be well formed, without a document type and within the limits, also in what is passed
 * over. Nothing is kept as a tree: 50,000 points would take 210 MB.
 * @returns the element prefixes that the file uses and never declares.
 * @throws EngineError `xml-malformed`, `xml-limits`, `doctype-not-allowed`, `not-gpx`, or what the visitor throws.
 */
export function walkXml(source: string, visitor: XmlVisitor): string[] {
  // The declaration has done its work in the decoder. Blanked, it may also stand after an empty line.
  const text = source.replace(/^\s*<\?xml\s[^>]*\?>/, (declaration) => declaration.replace(/[^\n]/g, ' '));
  const { xmlElements, xmlDepth, xmlAttributes, xmlTextLength } = INGEST_LIMITS;
  const parser = new SaxesParser({ position: false, xmlns: false });
  const forbidden = FORBIDDEN_NAMES.filter((name) => text.includes(name));
  const used = new Set<string>();
  const declared = new Set(['xml']);
  let elements = 0;
  let attributeCount = 0;
  let depth = 0;
  /** Depth of the element that is being passed over. */
  let passedOver = Number.POSITIVE_INFINITY;
  /** Where what is being read began, and how much text there is since the last tag. */
  let textStart = 0;
  let textLength = 0;

  const tagStart = (): number => text.lastIndexOf('<', parser.position - 1);
  const overLimit = (index: number, holder: string, unit: string, limit: number, found: number) => {
    const { line, column } = textPosition(text, index);
    return new EngineError(
      'xml-limits',
      message`At line ${line}, column ${column}, ${holder} has more than ${limit} ${unit}. Export the route alone, without other data.`,
      { line, column, limit, found },
    );
  };
  const onText = (value: string): void => {
    textLength += value.length;
    // White space between elements may be long; it is dropped anyway.
    if (textLength > xmlTextLength && /\S/.test(value))
      throw overLimit(textStart, 'a text', 'characters', xmlTextLength, textLength);
    if (depth < passedOver) visitor.text(value, depth);
  };

  parser.on('error', ({ message }) => {
    throw notWellFormed(text, {
      position: Math.min(parser.position, text.length),
      from: textStart,
      isOutside: depth === 0,
      isBeforeRoot: elements === 0,
      message,
    });
  });
  parser.on('doctype', () => {
    throw doctypeFault(text, text.search(/<!doctype/i));
  });
  parser.on('opentagstart', ({ name }) => {
    if (elements === 0) visitor.root(name);
  });
  parser.on('attribute', ({ name, value }) => {
    attributeCount += 1;
    if (attributeCount > xmlAttributes)
      throw overLimit(tagStart(), 'an element', 'attributes', xmlAttributes, attributeCount);
    if (value.length > xmlTextLength)
      throw overLimit(tagStart(), 'an attribute', 'characters', xmlTextLength, value.length);
    if (name.startsWith('xmlns:')) declared.add(name.slice(6));
  });
  parser.on('opentag', ({ name, attributes }) => {
    elements += 1;
    attributeCount = 0;
    if (elements > xmlElements) throw overLimit(tagStart(), 'the file', 'elements', xmlElements, elements);
    if (depth >= xmlDepth) throw overLimit(tagStart(), 'the file', 'levels of elements', xmlDepth, depth + 1);
    depth += 1;
    textLength = 0;
    textStart = parser.position;
    const colon = name.indexOf(':');
    if (colon > 0) used.add(name.slice(0, colon));
    if (depth > passedOver) return;
    if (!visitor.open(name, depth, attributes)) passedOver = depth;
    if (forbidden.some((word) => word === name || word in attributes))
      throw malformed(text, tagStart(), 'the file uses a name that is not allowed');
  });
  parser.on('closetag', () => {
    if (depth === passedOver) passedOver = Number.POSITIVE_INFINITY;
    depth -= 1;
    textLength = 0;
    textStart = parser.position;
  });
  parser.on('text', onText);
  const onOther = (): void => {
    textStart = parser.position;
  };
  parser.on('cdata', (value) => {
    onText(value);
    onOther();
  });
  parser.on('comment', onOther);
  parser.on('processinginstruction', onOther);
  parser.write(text).close();
  return [...used].filter((prefix) => !declared.has(prefix));
}

/** What the parser found wrong, and how far it was. */
interface Fault {
  readonly message: string;
  readonly position: number;
  /** Where what it was reading begins: behind the last tag, comment or CDATA section. */
  readonly from: number;
  readonly isOutside: boolean;
  readonly isBeforeRoot: boolean;
}

/** An ampersand that begins no reference of XML. The parser sees that one is wrong at the next semicolon alone. */
const STRAY_AMPERSAND = /&(?!(?:amp|lt|gt|quot|apos|#\d{1,7}|#x[\da-f]{1,6});)[^\s;<&]{0,24};?/i;

/** The fault at the place where it can be mended: where a tag or a reference begins that is wrong as a whole. */
function notWellFormed(
  text: string,
  { message, position, from, isOutside, isBeforeRoot }: Fault,
): EngineError {
  const tag = text.lastIndexOf('<', position - 1);
  const doctype = text.search(/<!doctype/i);
  if (doctype !== -1 && (doctype === tag || (isBeforeRoot && doctype < position)))
    return doctypeFault(text, doctype);
  const what = message
    .replace(/[\p{Cc}\p{Cf}]/gu, ' ')
    .replace(/\.$/, '')
    .slice(0, 120);
  const isCutOff = position === text.length && /^(unclosed|unexpected end|document must)/.test(what);
  const read = text.slice(from, position);
  const begins = from + read.search(/\S/);
  const isTag = text[begins] === '<';
  if (isOutside && begins >= from && !(isTag && (isBeforeRoot || isCutOff)))
    return malformed(text, begins, isTag ? what : 'text outside the root element');
  const written = read.replace(/<[!?].*/s, '');
  const stray = STRAY_AMPERSAND.exec(written) ?? /&[^\s;<&]{0,24};$/.exec(written);
  if (stray !== null)
    return malformed(
      text,
      from + stray.index,
      `${quote(stray[0])} is not defined; write &amp; for a plain "&"`,
    );
  if (isCutOff) return malformed(text, text.length, `${what}; the file was cut off`);
  const isWhole = /^<(?:[!/][^\s>]*>?|[\s>])$/.test(text.slice(tag, position));
  return malformed(text, isWhole ? tag : position - 1, what);
}

function doctypeFault(text: string, index: number): EngineError {
  if (/^<!doctype\s+html/i.test(text.slice(index, index + 40))) return htmlPage();
  return new EngineError(
    'doctype-not-allowed',
    'The file has a <!DOCTYPE> declaration. Remove it: entities and outside files are never loaded.',
    { ...textPosition(text, index) },
  );
}

/** The error for a web page saved under the name of a route. */
export function htmlPage(): EngineError {
  return new EngineError(
    'not-gpx',
    'The file looks like an HTML page, not a GPX file. Download the route itself, not the page that shows it.',
  );
}

function malformed(text: string, index: number, what: string): EngineError {
  const { line, column } = textPosition(text, index);
  return new EngineError(
    'xml-malformed',
    message`The XML is broken at line ${line}, column ${column}: ${what}. Export the file again.`,
    { line, column },
  );
}
