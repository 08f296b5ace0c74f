import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { madeReadmes } from '../scripts/make-readme.ts';

const readmes = [
  'README.md',
  'DEVELOPERS.md',
  ...readdirSync('src', { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('README.md'))
    .map((file) => join('src', file)),
];

describe('the READMEs', () => {
  it('show what the commands of their examples print now, and every error code with its status', async () => {
    const stale = (await madeReadmes()).filter(({ now, made }) => now !== made).map(({ file }) => file);
    expect(stale).toEqual([]);
  });

  it('name only scripts that exist', () => {
    const scripts: Record<string, string> = JSON.parse(readFileSync('package.json', 'utf8')).scripts;
    const unknown = readmes.flatMap((file) =>
      [...readFileSync(file, 'utf8').matchAll(/npm run (?:--silent )?([a-z:]+)/g)]
        .map(([, name]) => name ?? '')
        .filter((name) => name !== 'bench:' && name !== 'truth:' && !(name in scripts))
        .map((name) => `${file}: ${name}`),
    );
    expect(unknown).toEqual([]);
  });

  it('link only to what is there', () => {
    const dead = readmes.flatMap((file) =>
      [...readFileSync(file, 'utf8').matchAll(/\]\(([^)#]+)\)/g)]
        .map(([, target]) => target ?? '')
        .filter((target) => !target.startsWith('http'))
        .filter((target) => {
          try {
            readFileSync(join(dirname(file), target));
            return false;
          } catch {
            return true;
          }
        })
        .map((target) => `${file}: ${target}`),
    );
    expect(dead).toEqual([]);
  });

  it('keep the one for users to 120 lines', () => {
    expect(readFileSync('README.md', 'utf8').split('\n').length - 1).toBeLessThanOrEqual(120);
  });
});
