import { writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { tempFolder } from '../support/temp-folder.ts';
import { krummholz } from '../support/terminal.ts';

const folder = tempFolder();
const GIVEN = ['--routes', 'data/demo/routes', '--dem', 'data/demo/dem'];
const season = (file: string, ...more: string[]) => krummholz('season', file, ...GIVEN, ...more);

function file(name: string, content: object): string {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(content));
  return path;
}

describe('krummholz season', () => {
  it('prints the demo’s board for people: days, who has none and why, what it does not know', async () => {
    const { status, out, err } = await season('data/demo/season.json');
    expect({ status, err }).toEqual({ status: 0, err: '' });
    expect(out).toContain('3 of 4 cohorts');
    expect(out).toContain('No day: ');
    expect(out).toContain('because of the vehicles');
    expect(out).toContain('What the board does not know');
    expect(out).toContain('not a statement that the day is safe');
    for (const line of out.split('\n')) expect([...line].length).toBeLessThanOrEqual(100);
  });

  it('prints the same for programs as JSON alone', async () => {
    const { status, out } = await season('data/demo/season.json', '--format', 'json');
    expect(status).toBe(0);
    const view = JSON.parse(out);
    expect(view).toMatchObject({ cohorts: 4, placed: 3, isProven: true });
    expect(view.days.map(({ date }: { date: string }) => date)).toEqual(['2026-07-11', '2026-07-18']);
  });

  it('reads cohort files and their walks from beside the file that names them', async () => {
    const cohorts = [{ file: relative(folder, 'data/demo/cohorts/marram-seniors.json') }];
    const path = file('season.json', { dates: ['2026-07-11'], cohorts });
    expect((await season(path)).out).toContain('1 of 1 cohort');
  });

  it('refuses a season with one line that says what, where and what to do', async () => {
    const path = file('bad.json', { dates: ['2026-07-11'], cohorts: [{ file: 'nobody.json' }], limit: [] });
    const { status, out, err } = await season(path);
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toContain(`${path}: The season field /limit is not a known field. Did you mean "limits"?`);
    expect(err).toContain('[bad-season]');
    expect(err.trim()).not.toContain('\n');
  });

  it('says which cohort file is missing', async () => {
    const path = file('missing.json', { dates: ['2026-07-11'], cohorts: [{ file: 'nobody.json' }] });
    const { status, err } = await season(path);
    expect(status).toBe(1);
    expect(err).toContain(`${join(folder, 'nobody.json')}: no such file`);
  });
});
