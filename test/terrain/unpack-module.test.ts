import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { assemble } from '../../scripts/wasm/assemble.ts';
import { MODULE_FILE, unpackModule } from '../../scripts/wasm/unpack-module.ts';

describe('the WebAssembly that unpacks', () => {
  it('is what its source assembles to', () => {
    expect(readFileSync(MODULE_FILE, 'utf8')).toBe(unpackModule());
  });
});

describe('the assembler', () => {
  const run = (body: string, ...given: number[]): unknown => {
    const text = `(module (memory (export "memory") 1)
      (func (export "f") (param $a i32) (param $b i32) (result i32 i32) (local $c i32) ${body}))`;
    const { f } = new WebAssembly.Instance(new WebAssembly.Module(assemble(text))).exports;
    return (f as (...given: number[]) => unknown)(...given);
  };

  it('finds locals and labels by name and leaves loops by them', () => {
    const multiply = `
      (block $done ;; a comment
        (loop $again
          (br_if $done (i32.eqz (local.get $b)))
          (local.set $c (i32.add (local.get $c) (local.get $a)))
          (local.set $b (i32.sub (local.get $b) (i32.const 1)))
          (br $again)))
      (return (local.get $c) (i32.const -300))`;
    expect(run(multiply, 7, 6)).toEqual([42, -300]);
  });

  it('refuses what it does not know', () => {
    expect(() => run('(i32.popcnt (local.get $a))')).toThrow(/no instruction i32.popcnt/);
    expect(() => run('(local.set $d (i32.const 0))')).toThrow(/nothing is named \$d/);
    expect(() => run('(br $nowhere)')).toThrow(/nothing is named \$nowhere/);
    expect(() => assemble('(module')).toThrow(/bracket is missing/);
  });
});
