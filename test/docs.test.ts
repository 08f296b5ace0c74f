import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { run } from '../src/cli/commands.ts';
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

  it('shows what the commands of its worked example really print', async () => {
    const blocks = [...readme.matchAll(/^```\n([\s\S]*?)^```$/gm)].map(([, block]) => block ?? '');
    const commands = blocks.filter((block) => block.startsWith('npm run --silent krummholz'));
    expect(commands).toHaveLength(5);
    for (const command of commands) {
      const shown = blocks[blocks.indexOf(command) + 1] ?? '';
      const [, argv = ''] = command.replaceAll('\\\n', ' ').split(' -- ');
      let printed = '';
      const terminal = {
        out: (text: string) => {
          printed += text;
        },
        err: () => {},
        serve: async () => {},
      };
      expect(await run(argv.trim().split(/\s+/), terminal)).toBe(0);
      const lines = new Set(printed.split('\n'));
      const missing = shown.split('\n').filter((line) => line !== '…' && line !== '' && !lines.has(line));
      expect(missing).toEqual([]);
    }
  });
});
