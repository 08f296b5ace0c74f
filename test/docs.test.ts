import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ERROR_STATUS } from '../src/errors.ts';

describe('DEVELOPERS.md', () => {
  const map = readFileSync('DEVELOPERS.md', 'utf8');

  it('lists every error code with its status, and no other', () => {
    const listed = [...map.matchAll(/^\| `([a-z-]+)` \| (\d{3}) \|$/gm)].map(([, code, status]) => [
      code,
      Number(status),
    ]);
    expect(Object.fromEntries(listed)).toEqual({ ...ERROR_STATUS });
  });
});

describe('README.md', () => {
  const readme = readFileSync('README.md', 'utf8');

  it('names only scripts that exist', () => {
    const scripts: Record<string, string> = JSON.parse(readFileSync('package.json', 'utf8')).scripts;
    const named = [...readme.matchAll(/npm run (?:--silent )?([a-z:]+)/g)].map(([, name]) => name ?? '');
    expect(named.filter((name) => !(name in scripts))).toEqual([]);
  });
});
