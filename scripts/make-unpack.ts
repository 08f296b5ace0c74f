/** Writes src/terrain/unpack-module.ts from unpack.wat: npm run make:unpack. */
import { writeFileSync } from 'node:fs';
import { MODULE_FILE, unpackModule } from './wasm/unpack-module.ts';

writeFileSync(MODULE_FILE, unpackModule());
