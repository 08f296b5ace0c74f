import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { tempFolder } from '../support/temp-folder.ts';
import { krummholz } from '../support/terminal.ts';

const folder = tempFolder();

function rankIf(changes: string, ...more: string[]) {
  const path = join(folder, 'changes.json');
  writeFileSync(path, changes);
  return krummholz(
    ...['rank', '--cohort', 'data/demo/cohorts/marram-seniors.json', '--routes', 'data/demo/routes'],
    ...['--dem', 'data/demo/dem', '--date', '2026-07-11', '--what-if', path, ...more],
  );
}

describe('krummholz rank --what-if', () => {
  it('says first what moved and why, then ranks with the changes', async () => {
    const { status, out } = await rankIf('{ "deadline": "08:00" }');
    expect(status).toBe(0);
    expect(out).toMatch(/^What moved, against the shortlist without the changes \(\d+ routes\):/);
    expect(out).toMatch(/Two Knolls Round: fits → \S[^;]*; by (.*, )?storms fits →/s);
    expect(out).toContain('Deadline to be below treeline: about 08:00, set in place of the usual');
  });

  it('gives programs the same as JSON', async () => {
    const { out } = await rankIf('{ "date": "2026-11-14" }', '--format', 'json');
    const { date, moved, routes } = JSON.parse(out);
    expect(date).toBe('2026-11-14');
    expect(moved.length).toBeGreaterThan(0);
    expect(routes[0].rank).toBe(1);
    const [first] = moved;
    expect(Object.keys(first).sort()).toEqual(['criteria', 'from', 'name', 'to']);
  });

  it('says that nothing moved where nothing is changed', async () => {
    expect((await rankIf('{}')).out).toMatch(/^What moved: nothing\./);
  });

  it('refuses what it does not know, with the file and the place', async () => {
    const { status, err } = await rankIf('{ "vehicle": [] }');
    expect(status).toBe(1);
    expect(err).toContain('changes.json');
    expect(err).toContain('Did you mean "vehicles"?');
    expect(err).toContain('[bad-what-if]');
  });
});
