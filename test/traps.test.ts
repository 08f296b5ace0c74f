import { describe, expect, it } from 'vitest';
import { randomStream } from '../scripts/demo-range/random.ts';
import { HIKING_RULES } from '../src/capability/rules/index.ts';
import { DESIGN } from '../src/design.ts';
import { describeRoute } from '../src/route/describe-route.ts';
import type { GainMethod } from '../src/route/gain.ts';
import { latitudeTreelineM, treelineFor } from '../src/route/treeline.ts';
import { CAUTIONS } from '../src/text/cautions.ts';
import { elevated, FINE_TILE } from './support/elevated.ts';

// Traps of the field that no other test pins; the ones of single formulas stand beside their formulas.

describe('a trap of the field', () => {
  it('a crowd-sourced median that is a run is no walking rule here', () => {
    // Campbell et al. 2019, Applied Geography 106:93–107, table S1, 50th percentile on the flat: 2.55 m/s
    const [a, b, c, d] = [-2.171, 10.064, 63.66, 0.628];
    const flatMS = c / (Math.PI * b * (1 + (a / b) ** 2)) + d;
    expect(flatMS).toBeCloseTo(2.55, 2);
    for (const rule of HIKING_RULES) {
      const speedMS = 10_000 / 60 / rule.minutes([{ horizontalM: 10_000, climbM: 0, dropM: 0 }]);
      expect(speedMS, rule.name).toBeLessThan(0.75 * flatMS);
    }
  });

  it('altitude illness is spoken of by its headache first', () => {
    // Lake Louise 2018 (Roach et al.): without headache it is no acute mountain sickness
    expect(CAUTIONS.find((text) => text.startsWith('Altitude'))).toMatch(/^Altitude: headache/);
  });

  it('latitude alone puts treeline up to 1,172 m too high, so it decides nothing but the range', () => {
    // Katahdin, 46 N: 1,158 m (published table, sources.md §6); Mount Washington: 1,524 m (US Forest Service)
    expect(latitudeTreelineM(46) - 1158).toBeCloseTo(1172, 0);
    expect(latitudeTreelineM(44.27) - 500).toBeGreaterThan(1524);
    const katahdin = treelineFor(null, [{ lonDeg: -68.9, latDeg: 46 }], DESIGN.treeline);
    expect(katahdin.treelineM).toBeNull();
    expect(katahdin.rangeM.low).toBeLessThan(1158);
    // Körner’s rule as computed in sources.md §6
    expect([61, 51, 40.4, 5].map(latitudeTreelineM).map(Math.round)).toEqual([985, 1735, 3058, 3750]);
  });

  it('a treeline above where trees grow counts as not stated, and the highest forests known are believed', () => {
    const at = (latDeg: number, statedM: number) =>
      treelineFor(statedM, [{ lonDeg: -71, latDeg }], DESIGN.treeline).treelineM;
    // Mount Washington’s 1,524 m and a treeline of 1,100 m, both in feet
    expect(at(44.27, 4900)).toBeNull();
    expect(at(44.27, 3609)).toBeNull();
    // Junipers of southern Tibet (Miehe et al. 2007)
    expect(at(29.7, 4900)).toBe(4900);
    // The Alps at their highest (sources.md §6)
    expect(at(46, 2450)).toBe(2450);
  });

  it('a coarse surface model is read with a coarser threshold and a wider band', () => {
    const heightsM = Array.from({ length: 200 }, (_, i) => 1000 + 300 * Math.sin(i / 60));
    const gainOf = (postingM: number) =>
      describeRoute(elevated({ heightsM, tile: { ...FINE_TILE, postingM } }), DESIGN, { addWayBack: false })
        .measures;
    const turningPointM = (postingM: number) => (gainOf(postingM).gainMethod as GainMethod).turningPointM;
    expect(Math.round(turningPointM(90))).toBe(17);
    expect(Math.round(turningPointM(10))).toBe(5);
  });

  it('pure noise adds 0.564 σ of gain a sample to a naive sum, and next to nothing to ours', () => {
    const random = randomStream(1, 'noise');
    const sigmaM = 3;
    const heightsM = Array.from({ length: 5001 }, () => 1000 + sigmaM * random.normal());
    const naive = heightsM
      .slice(1)
      .reduce((sum, height, i) => sum + Math.max(0, height - (heightsM[i] ?? 0)), 0);
    // σ/√π a step (sources.md §7); 5,000 steps
    expect(naive / 5000 / sigmaM).toBeCloseTo(0.564, 1);
    const { gainM } = describeRoute(elevated({ heightsM: heightsM.slice(0, 501) }), DESIGN, {
      addWayBack: false,
    }).measures;
    expect(gainM?.value).toBeLessThan(0.25 * 500 * 0.564 * sigmaM);
  });
});
