import { describe, expect, it } from 'vitest';
import { truthDay } from '../../scripts/truth-day.ts';

// `npm run truth:day` walks 10,000 days and 1,000 groups of each kind; limits here are those asked of the plan, widened
// by two standard errors of a share.
const DAYS = 6000;
const GROUPS = 300;

describe('the printed probability of being below treeline by the deadline', async () => {
  const rows = await truthDay(DAYS, GROUPS);

  it('agrees with days drawn from the pace model', () => {
    const own = rows.filter((row) => row.case === 'days drawn from the pace model');
    expect(own.map((row) => row.printed)).toEqual([0.5, 0.8, 0.9, 0.95]);
    for (const { printed, met } of own) {
      const error = 2 * Math.sqrt((printed * (1 - printed)) / DAYS);
      expect(Math.abs(met - printed)).toBeLessThan(0.02 + error);
    }
  });

  it('is not far too hopeful, where a plan is made with it, for groups that walk by another rule', () => {
    const others = rows.filter((row) => /, [348] outings$/.test(row.case) && row.printed >= 0.8);
    expect(others.length).toBe(5 * 3 * 3);
    for (const { printed, met } of others) {
      expect(printed - met).toBeLessThan(0.1 + 2 * Math.sqrt((0.8 * 0.2) / GROUPS));
    }
  });

  it('counts a group that comes late to a checkpoint as slow: most are in time all the same', () => {
    const late = rows.filter((row) => row.case.startsWith('of these'));
    expect(late).toHaveLength(2);
    for (const { met } of late) expect(met).toBeGreaterThan(0.7);
  });
});
