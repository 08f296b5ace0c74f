import type { EngineError } from '../errors.ts';
import { quote } from '../ingest/quote.ts';
import type { Departure, Found, Message, MessageValue, Wanted } from '../message.ts';
import type { UnitSystem } from '../units.ts';
import { kilometresAsFine, metresAsFine } from './fine-length.ts';
import { noteText } from './notes.ts';

/** A field of a form that takes a figure in a unit, and what was typed there. */
interface FieldFigure {
  readonly name: string;
  readonly perUnit: number;
  readonly typed: string;
}

/** Who reads an error: a program and whoever wrote it, or somebody before a form, perhaps beside the very field. */
export interface ErrorReader {
  readonly units: UnitSystem;
  readonly at?: 'program' | 'form' | 'field';
  readonly figure?: FieldFigure | null;
}

/** Longest text in quotes that is repeated, characters. */
const LONGEST_QUOTE = 100;
const QUOTES: Readonly<Record<string, string>> = { '"': '"', '“': '”' };

const inEnglish = new Intl.NumberFormat('en', { maximumFractionDigits: 3 });

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function clipped(text: string): string {
  const characters = [...text];
  if (characters.length <= LONGEST_QUOTE) return text;
  return `${characters.slice(0, LONGEST_QUOTE - 1).join('')}…`;
}

function foundText(found: Found): string {
  if (typeof found === 'string') return quote(found);
  if (typeof found === 'object' && found !== null) return found.kind === 'list' ? 'a list' : 'an object';
  return String(found);
}

function rangeText(from: number, to: number, figure: FieldFigure | null): string {
  if (figure === null) return ` from ${from} to ${to}`;
  const { perUnit, name } = figure;
  const [least, most] = [Math.ceil(from / perUnit), Math.floor(to / perUnit)];
  return ` from ${inEnglish.format(least)} to ${inEnglish.format(most)} ${name}`;
}

const WANTED = {
  text: 'a text in quotes',
  boolean: 'true or false',
  null: 'null',
  object: 'an object in { }',
  list: 'a list in [ ]',
} as const;

function wantedText(wanted: Wanted, { at, figure = null }: ErrorReader): string {
  switch (wanted.a) {
    case 'number': {
      const { whole, from, to } = wanted;
      const range = from === null || to === null ? '' : rangeText(from, to, figure);
      return `${whole ? 'a whole number' : 'a number'}${range}`;
    }
    case 'constant': {
      const listed = wanted.values.map((value) => JSON.stringify(value)).join(', ');
      return wanted.values.length === 1 ? listed : `one of ${listed}`;
    }
    case 'described':
      return at === 'field' ? wanted.inForm : wanted.as;
    default:
      return WANTED[wanted.a];
  }
}

function departureText(departure: Departure, reader: ErrorReader): string {
  switch (departure.departs) {
    case 'unknown': {
      const { near, known } = departure;
      return `is not a known field. ${near === null ? `Known are ${known.join(', ')}.` : `Did you mean "${near}"?`}`;
    }
    case 'missing':
      return 'is missing and has to be given.';
    case 'repeated':
      return `repeats ${foundText(departure.found)}. Write each once.`;
    case 'tooLong':
      return `has ${departure.found} characters; shorten it to ${departure.limit} at most.`;
    case 'tooMany':
      return `holds ${departure.found} entries; at most ${departure.limit} are allowed.`;
    case 'tooFew':
      return `must hold at least ${departure.limit} entries.`;
    case 'wrong': {
      const { found } = departure;
      const wanted = wantedText(departure.wanted, reader);
      if (found === null && reader.at === 'field') return `is missing: it must be ${wanted}.`;
      const typed = typeof found === 'number' ? reader.figure?.typed : undefined;
      return `must be ${wanted}; found ${typed ?? foundText(found)}.`;
    }
  }
}

function valueText(value: Exclude<MessageValue, string>, reader: ErrorReader): string {
  const { units, at } = reader;
  if (typeof value === 'number') return String(value);
  if ('lengthM' in value) {
    const { lengthM, kmDecimals } = value;
    return kmDecimals === undefined
      ? metresAsFine(lengthM, units)
      : kilometresAsFine(lengthM, kmDecimals, units);
  }
  if ('departs' in value) return departureText(value, reader);
  if ('pattern' in value) return messageText(value, reader);
  if ('reasons' in value) return value.reasons.map((reason) => messageText(reason, reader)).join('; ');
  if ('notes' in value) return value.notes.map((note) => noteText(note, units)).join('; ');
  if ('few' in value) return units === 'us' ? 'few feet' : 'few metres';
  if ('act' in value) {
    return at === 'form' || at === 'field'
      ? 'tick “These figures are right all the same”.'
      : 'send "confirmed": true to keep it as it is';
  }
  if (value.isHead === true) return at === 'field' ? '' : `${value.field}: `;
  return at === 'field' ? 'This' : value.field;
}

/** A message in the words of its reader. */
export function messageText({ pattern, values }: Message, reader: ErrorReader): string {
  let text = pattern[0] ?? '';
  values.forEach((value, i) => {
    const [before, after] = [pattern[i] ?? '', pattern[i + 1] ?? ''];
    const isQuoted = after !== '' && QUOTES[before.slice(-1)] === after.charAt(0);
    text += typeof value !== 'string' ? valueText(value, reader) : isQuoted ? clipped(value) : value;
    text += after;
  });
  const [first] = values;
  const isAlone = reader.at === 'field' && typeof first === 'object' && 'isHead' in first;
  return isAlone ? capital(text) : text;
}

/** What is wrong, in one line for its reader. */
export const errorText = (
  { reason }: Pick<EngineError, 'reason'>,
  units: UnitSystem,
  reader: Omit<ErrorReader, 'units'> = {},
): string => messageText(reason, { ...reader, units });

/** Whether the words of an error name the place that it has. */
export const namesItsPlace = (error: EngineError): boolean =>
  error.place.pointer !== undefined && errorText(error, 'metric').includes(error.place.pointer);
