import { describe, expect, it } from 'vitest';
import type { ProfileDrawing } from '../../../src/drawing/profile/profile-drawing.ts';
import { profileScales } from '../../../src/drawing/profile/scales.ts';
import { profileFile } from '../../../src/drawing/profile/svg.tsx';
import { PROFILE } from '../../support/plan-document.ts';

const draw = (changes: Partial<ProfileDrawing> = {}): string => profileFile({ ...PROFILE, ...changes }) ?? '';
const BOX = { left: 0, right: 900, top: 0, bottom: 200 };
const hatchedTo = (treelineM: number | null): number | undefined =>
  profileScales({ ...PROFILE, treelineM }, BOX)?.hatchedTo;

describe('the profile', () => {
  it('says in words what it shows', () => {
    const svg = draw();
    expect(svg).toContain('<title id="profile-wide-title">Grey Horn by the Long Shelf on 2026-07-11');
    expect(svg).toContain('top, 08:50 (08:10–09:30), by 10:05.');
    expect(svg).toMatch(/role="img" aria-labelledby="profile-wide-title profile-wide-words"/);
  });

  it('names the treeline in the units of its axes', () => {
    expect(draw()).toContain('treeline 1,500 m<');
    expect(draw({ units: 'us' })).toContain('treeline 4,921 ft<');
    expect(draw({ units: 'us' })).not.toContain('1,500');
  });

  it('breaks the line where no height is known', () => {
    const ground = /class="ground" d="([^"]*)"/.exec(draw())?.[1] ?? '';
    expect(ground.match(/M/g)).toHaveLength(2);
    expect(ground).not.toMatch(/NaN|null/);
  });

  it('hatches down to the treeline, all above it, or nothing where all lies below or it is not known', () => {
    const y = profileScales(PROFILE, BOX)?.y;
    expect(hatchedTo(1500)).toBeCloseTo(y?.(1500) ?? -1, 6);
    expect(hatchedTo(300)).toBe(BOX.bottom);
    expect(hatchedTo(4000)).toBe(0);
    expect(hatchedTo(null)).toBe(0);
    expect(draw({ treelineM: null })).toContain('Treeline is not known.');
    expect(draw({ treelineM: 4000 })).not.toContain('class="treeline"');
  });

  it('has axes of round kilometres and metres, or of round miles and feet', () => {
    const metric = profileScales(PROFILE, BOX);
    expect(metric?.lengthUnit).toBe('km');
    expect(metric?.lengths.find(({ text }) => text === '1')?.at).toBeCloseTo(metric?.x(1000) ?? -1, 6);
    expect(metric?.heights.at(-1)?.text).toMatch(/00 m$/);
    // 1 mile = 1,609.344 m, 1 ft = 0.3048 m (international, exact).
    const us = profileScales({ ...PROFILE, units: 'us' }, BOX);
    expect(us?.lengthUnit).toBe('miles');
    expect(us?.lengths.find(({ text }) => text === '1')?.at).toBeCloseTo(us?.x(1609.344) ?? -1, 6);
    const feet = us?.heights.find(({ text }) => text.startsWith('5,000'));
    expect(feet?.at).toBeCloseTo(us?.y(5000 * 0.3048) ?? -1, 6);
    expect(us?.heights.at(-1)?.text).toMatch(/00 ft$/);
  });

  it('draws level ground level, at sea level too', () => {
    const points = [
      [0, 0],
      [500, 0],
      [1000, 0],
    ] as const;
    expect(draw({ points, treelineM: null, marks: [] })).toMatch(
      /class="ground" d="M58,(\d+(?:\.\d)?)L362,\1L666,\1"/,
    );
  });

  it('is not drawn where no height is known, or the line has no length', () => {
    expect(
      profileFile({
        ...PROFILE,
        points: [
          [0, null],
          [100, null],
        ],
      }),
    ).toBeNull();
    expect(profileFile({ ...PROFILE, points: [] })).toBeNull();
    expect(
      profileFile({
        ...PROFILE,
        points: [
          [0, 5],
          [0, 6],
        ],
      }),
    ).toBeNull();
  });

  it('ends a leader above the ground where the height of a mark is not known, without a point', () => {
    const marks = [{ distanceM: 8000, heightM: null, name: 'hut', times: '11:00', by: null }];
    const svg = draw({ marks });
    expect(svg).toContain('hut');
    expect(svg).not.toContain('<circle');
  });
});
