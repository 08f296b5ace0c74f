import { readFileSync } from 'node:fs';
import { assemble } from './assemble.ts';

const SOURCE_FILE = new URL('../../src/terrain/unpack.wat', import.meta.url);
export const MODULE_FILE = new URL('../../src/terrain/unpack-module.ts', import.meta.url);
const LINE = 100;

/** The text of src/terrain/unpack-module.ts. */
export function unpackModule(): string {
  const bytes = assemble(readFileSync(SOURCE_FILE, 'utf8'));
  const lines =
    Buffer.from(bytes)
      .toString('base64')
      .match(new RegExp(`.{1,${LINE}}`, 'g')) ?? [];
  return [
    '/** unpack.wat as WebAssembly in base64, made by `npm run make:unpack`. */',
    'export const UNPACK_MODULE =',
    `${lines.map((line) => `  '${line}'`).join(' +\n')};`,
    '',
  ].join('\n');
}
