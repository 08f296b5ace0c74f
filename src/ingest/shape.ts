import type Type from 'typebox';
import { Compile } from 'typebox/compile';
import { EngineError, type ErrorCode, type ErrorPlace, faultsOf, together } from '../errors.ts';
import { type Departure, type Message, message } from '../message.ts';
import { schemaFaults } from './schema-fault.ts';

/** So many faults are told of one input at most (design): more help nobody, and a hostile one must not cost time. */
const MOST_FAULTS = 20;

/** What the errors of a shape are called: their code, and how a sentence about a field, or the whole, begins. */
export interface ShapeName {
  readonly code: ErrorCode;
  /** `The cohort field`. */
  readonly field: string;
  /** `The whole of the cohort`. */
  readonly whole: string;
}

/** What was found wrong with one input, in the order in which it was looked at. */
export class Faults {
  readonly #found: EngineError[] = [];
  /** Where the input departs from its schema. */
  readonly #misshapen: string[] = [];
  readonly #name: ShapeName;

  constructor(name: ShapeName) {
    this.#name = name;
  }

  get isFull(): boolean {
    return this.#found.length >= MOST_FAULTS;
  }

  /** A fault in a sentence of its own. */
  add(pointer: string, reason: Message, place: ErrorPlace = {}): void {
    this.#found.push(new EngineError(this.#name.code, reason, { pointer, ...place }));
  }

  /** A fault in the rest of a sentence that begins with the field. */
  addAt(pointer: string, rest: string | Message | Departure, place: ErrorPlace = {}): void {
    const { field, whole } = this.#name;
    const subject = pointer === '' ? whole : { field: `${field} ${pointer}` };
    this.add(pointer, message`${subject} ${rest}`, place);
  }

  /** A fault in a sentence of its own, of which programs are told the field first. */
  addUnder(pointer: string, reason: Message): void {
    this.add(pointer, message`${{ field: `${this.#name.field} ${pointer}`, isHead: true }}${reason}`);
  }

  /** The faults that other work meets, as they are to be told here. */
  from(work: () => unknown, reworded: (fault: EngineError) => EngineError = (fault) => fault): void {
    this.#found.push(...faultsOf(work).map(reworded));
  }

  /** Takes up where a value departs from a schema; `pointer` is where the value stands. */
  misshapen(schema: Type.TSchema, value: unknown, pointer: string): void {
    for (const { pointer: at, departure, ...place } of schemaFaults(schema, value, pointer)) {
      this.#misshapen.push(at);
      this.addAt(at, departure, place);
      if (this.isFull) return;
    }
    if (this.#misshapen.length === 0)
      throw new RangeError(`the schema refuses what its walker accepts: ${this.#name.whole}`);
  }

  /** Whether what stands at this pointer is of the right kind, whatever may be wrong inside it. */
  isOfKind(pointer: string): boolean {
    return !this.#misshapen.some((at) => isWithin(pointer, at));
  }

  /** A value whose shape is right in all of it; `undefined` where it is not, as where it is missing. */
  sound<T>(pointer: string, value: T): T | undefined {
    return this.isOfKind(pointer) && !this.#misshapen.some((at) => isWithin(at, pointer)) ? value : undefined;
  }

  /** The items of a list that are of the right kind, each with its pointer. */
  *items<T>(pointer: string, list: readonly T[] | null | undefined): Generator<readonly [T, string]> {
    if (list == null || !this.isOfKind(pointer)) return;
    for (const [index, item] of list.entries()) {
      const at = `${pointer}/${index}`;
      if (this.isOfKind(at)) yield [item, at];
    }
  }

  /** @throws EngineError the first fault, with the others. */
  throwAny(): void {
    if (this.#found.length > 0) throw together(this.#found.slice(0, MOST_FAULTS));
  }
}

const isWithin = (pointer: string, outer: string): boolean =>
  pointer === outer || pointer.startsWith(`${outer}/`);

/**
 * Rules between the fields of a shape. They see a value of which any part may be misshapen: what a rule reads it asks
 * `faults.sound` or `faults.items` for, so that no rule speaks of what its schema has refused already.
 */
export type ShapeRules<T> = (value: T, faults: Faults, pointer: string) => void;

/**
 * Checks values of one shape, whether they come from a file, a body or a form: first the schema, then the rules.
 * The check throws one EngineError with all the faults.
 */
export function shapeCheck<S extends Type.TSchema>(schema: S, name: ShapeName) {
  const validator = Compile(schema);
  return (value: unknown, pointer = '', rules: ShapeRules<Type.Static<S>> = () => {}): Type.Static<S> => {
    const faults = new Faults(name);
    if (!validator.Check(value)) faults.misshapen(schema, value, pointer);
    // A value of another kind altogether has no fields to compare; a full list knows no more what is sound.
    if (!faults.isFull && faults.isOfKind(pointer)) rules(value as Type.Static<S>, faults, pointer);
    faults.throwAny();
    return value as Type.Static<S>;
  };
}
