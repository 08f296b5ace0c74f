import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { classInDoubt, steepGroundOf } from '../../src/route/steep-ground.ts';
import { elevated } from '../support/elevated.ts';

const steepness = (heightsM: readonly number[], slopesDeg: readonly number[] = []) =>
  steepGroundOf(
    elevated({ heightsM, slopesDeg: heightsM.map((_, i) => slopesDeg[i] ?? 0) }).segments,
    10,
    DESIGN,
  );
const level = Array.from({ length: 30 }, () => 800);

describe('how steep a way is', () => {
  it('is the slope along it, not that of the hillside that it crosses', () => {
    const ground = steepness(
      level,
      level.map(() => 60),
    );
    expect(ground).toMatchObject({ line50Deg: 0, steepLineM: 0 });
    expect(ground?.stretches[0]?.onDeg).toBe(60);
    const asked = { attributes: { rockClass: '1' }, measures: { steepGround: ground } };
    expect(classInDoubt(asked, DESIGN)).toBeNull();
  });

  it('is found where the line climbs a cliff, with its place and length', () => {
    // 20 m a step of 20 m: 45° over 300 m, from 200 m on.
    const heights = level.map((height, i) => height + 20 * Math.min(15, Math.max(0, i - 10)));
    const ground = steepness(heights);
    expect(ground?.line50Deg).toBeCloseTo(45, 6);
    expect(ground?.line50AtM).toBeGreaterThan(200);
    expect(ground?.steepLineM).toBeGreaterThanOrEqual(300);
    expect(ground?.steepLineM).toBeLessThan(420);
  });

  it('is the same walked the other way', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 5, maxLength: 40 }), (heights) => {
        const [there, back] = [steepness(heights), steepness([...heights].reverse())];
        expect(there?.line50Deg).toBeCloseTo(back?.line50Deg ?? Number.NaN, 9);
        expect(there?.steepLineM).toBeCloseTo(back?.steepLineM ?? Number.NaN, 6);
      }),
    );
  });
});
