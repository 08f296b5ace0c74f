import { SaxesParser } from 'saxes';
import { malformedAt } from './xml-guard.ts';

/** By name, without a prototype. */
export type XmlAttributes = Readonly<Record<string, string>>;

/** What is told on the way through a document; the root is at depth 1. */
export interface XmlVisitor {
  /** @returns `false` to pass over all that the element holds. */
  open(name: string, depth: number, attributes: XmlAttributes): boolean;
  /** Text right inside the element at `depth`, in pieces where comments, CDATA or elements split it. */
  text(value: string, depth: number): void;
}

// No route has them; refused as in JSON, although nothing here keeps what it reads under its name.
const FORBIDDEN_NAMES = ['__proto__', 'constructor', 'prototype'];

/**
 * Walks through XML that the guard has passed. Nothing is kept as a tree: 50,000 points would take 210 MB.
 * What is passed over has to be well formed too.
 * @throws EngineError `xml-malformed`, or what the visitor throws.
 */
export function walkXml(text: string, visitor: XmlVisitor): void {
  const parser = new SaxesParser({ position: false, xmlns: false });
  let depth = 0;
  /** Depth of the element that is being passed over. */
  let passedOver = Number.POSITIVE_INFINITY;

  const refuse = (what: string) => malformedAt(parser.line, Math.max(1, parser.columnIndex), what);
  const forbidden = FORBIDDEN_NAMES.filter((name) => text.includes(name));
  const onText = (value: string): void => {
    if (depth < passedOver) visitor.text(value, depth);
  };

  parser.on('error', ({ message }) => {
    throw refuse(
      message
        .replace(/[\p{Cc}\p{Cf}]/gu, ' ')
        .replace(/\.$/, '')
        .slice(0, 120),
    );
  });
  parser.on('opentag', ({ name, attributes }) => {
    depth += 1;
    if (depth > passedOver) return;
    if (forbidden.some((word) => word === name || word in attributes)) {
      throw refuse('the file uses a name that is not allowed');
    }
    if (!visitor.open(name, depth, attributes)) passedOver = depth;
  });
  parser.on('closetag', () => {
    if (depth === passedOver) passedOver = Number.POSITIVE_INFINITY;
    depth -= 1;
  });
  parser.on('text', onText);
  parser.on('cdata', onText);
  parser.write(text).close();
}
