import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearEachOther } from '../../src/route/map-frame.ts';

const at = (name: string, lonDeg: number, latDeg: number) => ({
  name,
  route: { line: [[[lonDeg, latDeg] as const]] },
});
const names = (routes: readonly { readonly name: string }[]) => routes.map(({ name }) => name);

describe('routes gathered for one map', () => {
  it('leaves out the one that lies far off, wherever it stands in the list', () => {
    const stray = at('stray', 8.2, 46.1);
    const others = [at('a', -30.2, 46.1), at('b', -30.3, 46.0), at('c', -30.25, 46.2)];
    for (let place = 0; place <= others.length; place += 1) {
      const { near, far } = nearEachOther(others.toSpliced(place, 0, stray), 0.5);
      expect([names(near), names(far)]).toEqual([['a', 'b', 'c'], ['stray']]);
    }
  });

  it('keeps those on both sides of the date line together', () => {
    const { far } = nearEachOther([at('a', 179.9, -16), at('b', -179.9, -16)], 0.5);
    expect(far).toEqual([]);
  });

  it('loses none and doubles none', () => {
    const place = fc.tuple(
      fc.double({ min: -180, max: 180, noNaN: true }),
      fc.double({ min: -80, max: 80, noNaN: true }),
    );
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 30 }), (places) => {
        const routes = places.map(([lon, lat], i) => at(`${i}`, lon, lat));
        const { near, far } = nearEachOther(routes, 0.5);
        expect(near.length).toBeGreaterThan(0);
        expect(names([...near, ...far]).sort()).toEqual(names(routes).sort());
      }),
    );
  });
});
