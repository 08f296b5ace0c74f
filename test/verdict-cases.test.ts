import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { krummholz } from './support/terminal.ts';

/** Invented groups and routes with the verdicts that a careful instructor would accept; ours, beside the checkout. */
const CASES = '../shared/data/verdict-cases';

interface Case {
  readonly date: string;
  /** Verdicts; `error`: what is stated is refused; `*`: any. */
  readonly accept: readonly string[];
  /** A pattern that the answer contains. */
  readonly says: string | null;
  readonly why: string;
}

interface Ranked {
  readonly name: string;
  readonly verdict: string;
  readonly day: { readonly start: string; readonly trailhead: { readonly p50: string } };
}

const hoursOut = ({ day }: Ranked): number =>
  (Date.parse(day.trailhead.p50) - Date.parse(day.start)) / 3_600_000;
const byName = (routes: readonly Ranked[], name: string): Ranked => {
  const found = routes.find((route) => route.name === name);
  if (found === undefined) throw new RangeError(`no route ${name}`);
  return found;
};

/** What the verdict alone does not show. */
const FURTHER: Readonly<Record<string, (routes: readonly Ranked[]) => void>> = {
  '30-long-flat-vs-summit': ([first]) => expect(first?.name).toBe('summit70'),
  '37-hot-start-late': ([first]) => expect(Number(first?.day.start.slice(11, 13))).toBeLessThan(8),
  '41-class3-trail': (routes) =>
    expect(hoursOut(byName(routes, 'class3'))).toBeGreaterThan(hoursOut(byName(routes, 'asTrail')) + 0.5),
};

const names = existsSync(CASES) ? readdirSync(CASES).sort() : [];

describe.skipIf(names.length === 0)('the verdicts that a careful instructor would accept', () => {
  for (const name of names) {
    const folder = join(CASES, name);
    const { date, accept, says, why } = JSON.parse(readFileSync(join(folder, 'case.json'), 'utf8')) as Case;
    it(`${name}: ${why}`, async () => {
      const { status, out, err } = await krummholz(
        ...['rank', '--cohort', join(folder, 'cohort.json'), '--routes', join(folder, 'routes')],
        ...['--dem', join(folder, 'dem'), '--date', date, '--format', 'json'],
      );
      if (says !== null) expect(out + err).toMatch(new RegExp(says, 'i'));
      if (accept.includes('error')) {
        expect(status).toBe(1);
        return;
      }
      expect(err).toBe('');
      expect(status).toBe(0);
      const { routes } = JSON.parse(out) as { routes: readonly Ranked[] };
      for (const { verdict } of accept.includes('*') ? [] : routes) expect(accept).toContain(verdict);
      FURTHER[name]?.(routes);
    });
  }
});
