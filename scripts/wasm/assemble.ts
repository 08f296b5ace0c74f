/**
 * WebAssembly text to its binary form: the few instructions that src/terrain/unpack.wat uses, in folded form (WebAssembly
 * Core Specification 2.0, sections 5 and 6).
 */

type Node = string | readonly Node[];

const VALUE_TYPES: Readonly<Record<string, number>> = { i32: 0x7f, i64: 0x7e, f32: 0x7d, v128: 0x7b };

/** Instructions without immediates. */
const PLAIN: Readonly<Record<string, readonly number[]>> = {
  return: [0x0f],
  'i32.eqz': [0x45],
  'i32.eq': [0x46],
  'i32.lt_u': [0x49],
  'i32.gt_u': [0x4b],
  'i32.le_u': [0x4d],
  'i32.ge_u': [0x4f],
  'i32.add': [0x6a],
  'i32.sub': [0x6b],
  'i32.and': [0x71],
  'i32.or': [0x72],
  'i32.shl': [0x74],
  'i32.shr_u': [0x76],
  'i32.rotl': [0x77],
  'i32.rotr': [0x78],
  'i8x16.add': [0xfd, 0x6e],
  'f32x4.splat': [0xfd, 0x13],
  'f32x4.ne': [0xfd, 0x42],
  'f32x4.le': [0xfd, 0x45],
  'f32x4.ge': [0xfd, 0x46],
  'v128.and': [0xfd, 0x4e],
  'v128.bitselect': [0xfd, 0x52],
};

/** Instructions on memory; all are told that addresses are any. */
const MEMORY: Readonly<Record<string, readonly number[]>> = {
  'i32.load': [0x28],
  'i64.load': [0x29],
  'i32.load8_u': [0x2d],
  'i32.store': [0x36],
  'i64.store': [0x37],
  'i32.store8': [0x3a],
  'v128.load': [0xfd, 0x00],
  'v128.store': [0xfd, 0x0b],
};

const EMPTY_BLOCK = 0x40;
const END = 0x0b;

export function assemble(text: string): Uint8Array<ArrayBuffer> {
  const [head, ...fields] = list(parse(text));
  if (head !== 'module') throw new Error('not a module');
  const functions = fields.map(list).filter(([kind]) => kind === 'func');
  const memory = fields.map(list).find(([kind]) => kind === 'memory');
  if (memory === undefined) throw new Error('a module has a memory');
  const parts = functions.map(functionParts);
  const exported = (name: string, kind: number, index: number) => [
    ...vector([...Buffer.from(name)]),
    kind,
    index,
  ];
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
    ...section(
      1,
      parts.map(({ type }) => type),
    ),
    ...section(
      3,
      parts.map((_, i) => unsigned(i)),
    ),
    ...section(5, [[0x00, ...unsigned(Number(memory[2]))]]),
    ...section(7, [
      exported(exportName(memory), 0x02, 0),
      ...parts.map(({ name }, i) => exported(name, 0x00, i)),
    ]),
    ...section(
      10,
      parts.map(({ code }) => vector(code)),
    ),
  ]);
}

/** The one form that the text holds, as lists within lists. */
function parse(text: string): Node {
  const open: Node[][] = [[]];
  for (const [token] of text.replace(/;;.*/g, '').matchAll(/[()]|"[^"]*"|[^\s()"]+/g)) {
    if (token === '(') open.push([]);
    else if (token === ')') {
      const closed = open.pop();
      const outer = open.at(-1);
      if (closed === undefined || outer === undefined) throw new Error('a bracket too many');
      outer.push(closed);
    } else open.at(-1)?.push(token);
  }
  const [module] = open[0] ?? [];
  if (open.length !== 1 || module === undefined) throw new Error('a bracket is missing');
  return module;
}

function list(node: Node | undefined): readonly Node[] {
  if (node === undefined || typeof node === 'string') throw new Error(`a list was expected, not ${node}`);
  return node;
}

function word(node: Node | undefined): string {
  if (typeof node !== 'string') throw new Error(`a word was expected, not ${JSON.stringify(node)}`);
  return node;
}

const exportName = (field: readonly Node[]): string => word(list(field[1])[1]).slice(1, -1);

interface FunctionParts {
  readonly name: string;
  readonly type: number[];
  readonly code: number[];
}

function functionParts(field: readonly Node[]): FunctionParts {
  const names: string[] = [];
  const [params, locals, results]: [number[], number[], number[]] = [[], [], []];
  const body = field.slice(2).filter((node) => {
    const [head, ...rest] = list(node).map((part) => (typeof part === 'string' ? part : ''));
    if (head === 'result') results.push(...rest.map(valueType));
    else if (head === 'param' || head === 'local') {
      names.push(rest[0] ?? '');
      (head === 'param' ? params : locals).push(valueType(rest[1] ?? ''));
    } else return true;
    return false;
  });
  return {
    name: exportName(field),
    type: [0x60, ...vector(params), ...vector(results)],
    code: [
      ...unsigned(locals.length),
      ...locals.flatMap((type) => [1, type]),
      ...body.flatMap((node) => instruction(node, names, [])),
      END,
    ],
  };
}

function valueType(name: string): number {
  const type = VALUE_TYPES[name];
  if (type === undefined) throw new Error(`no type ${name}`);
  return type;
}

/** @param labels of the blocks that it stands in, innermost last */
function instruction(node: Node, locals: readonly string[], labels: readonly string[]): number[] {
  const [head, ...rest] = list(node);
  const op = word(head);
  const all = (nodes: readonly Node[], within: readonly string[] = labels) =>
    nodes.flatMap((inner) => instruction(inner, locals, within));
  const label = () => unsigned(placeIn([...labels].reverse(), word(rest[0])));
  const plain = PLAIN[op];
  if (plain !== undefined) return [...all(rest), ...plain];
  const memory = MEMORY[op];
  if (memory !== undefined) {
    const offset = typeof rest[0] === 'string' ? Number(rest[0].replace('offset=', '')) : 0;
    return [...all(typeof rest[0] === 'string' ? rest.slice(1) : rest), ...memory, 0, ...unsigned(offset)];
  }
  switch (op) {
    case 'i32.const':
      return [0x41, ...signed(Number(rest[0]) | 0)];
    case 'f32.const': {
      const value = Buffer.alloc(4);
      value.writeFloatLE(Number(rest[0]));
      return [0x43, ...value];
    }
    case 'local.get':
      return [0x20, ...unsigned(placeIn(locals, word(rest[0])))];
    case 'local.set':
      return [...all(rest.slice(1)), 0x21, ...unsigned(placeIn(locals, word(rest[0])))];
    case 'i8x16.shuffle':
      return [...all(rest.slice(16)), 0xfd, 0x0d, ...rest.slice(0, 16).map(Number)];
    case 'block':
    case 'loop':
      return [
        op === 'block' ? 0x02 : 0x03,
        EMPTY_BLOCK,
        ...all(rest.slice(1), [...labels, word(rest[0])]),
        END,
      ];
    case 'if': {
      const [condition, then] = rest;
      return [
        ...all([condition ?? '']),
        0x04,
        EMPTY_BLOCK,
        ...all(list(then).slice(1), [...labels, '']),
        END,
      ];
    }
    case 'br':
      return [0x0c, ...label()];
    case 'br_if':
      return [...all(rest.slice(1)), 0x0d, ...label()];
    default:
      throw new Error(`no instruction ${op}`);
  }
}

function placeIn(names: readonly string[], name: string): number {
  const place = names.indexOf(name);
  if (place < 0) throw new Error(`nothing is named ${name}`);
  return place;
}

const section = (id: number, entries: readonly (readonly number[])[]): number[] => [
  id,
  ...vector([...unsigned(entries.length), ...entries.flat()]),
];

const vector = (bytes: readonly number[]): number[] => [...unsigned(bytes.length), ...bytes];

/** LEB128. */
function unsigned(value: number): number[] {
  return value < 0x80 ? [value] : [(value & 0x7f) | 0x80, ...unsigned(value >>> 7)];
}

function signed(value: number): number[] {
  const isLast = value >= -0x40 && value < 0x40;
  return isLast ? [value & 0x7f] : [(value & 0x7f) | 0x80, ...signed(value >> 7)];
}
