import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labelLines, labelSlots } from '../../../src/drawing/profile/labels.ts';
import { profileLayout } from '../../../src/drawing/profile/layout.ts';
import { WIDE } from '../../../src/drawing/profile/profile-drawing.ts';
import { PROFILE } from '../../support/plan-document.ts';

const layoutOf = (count: number, name: string) =>
  profileLayout(
    {
      ...PROFILE,
      marks: Array.from({ length: count }, (_, i) => ({
        distanceM: i * 10,
        heightM: null,
        name,
        times: '08:50 (08:10–09:30)',
        by: i % 2 === 0 ? 'by 09:49' : null,
      })),
    },
    WIDE,
  );

describe('slots of labels', () => {
  it('never overlap, stay in the drawing and keep the order of the marks', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 100, max: 2000 }), (count, width) => {
        const found = labelSlots(count, width, 20);
        if (found === null) return;
        const { slots } = found;
        const half = found.width / 2;
        slots.forEach(({ x, row }, i) => {
          expect(x - half).toBeGreaterThanOrEqual(-1e-6);
          expect(x + half).toBeLessThanOrEqual(width + 1e-6);
          slots.slice(i + 1).forEach((other) => {
            expect(other.x).toBeGreaterThan(x);
            if (other.row === row) expect(other.x - x).toBeGreaterThanOrEqual(found.width - 1e-6);
            // A leader from the row above passes between two labels of the row below.
            else expect(other.x - x).toBeGreaterThanOrEqual(half - 1e-6);
          });
        });
      }),
    );
  });

  it('are one row, then two, then none as the labels get more', () => {
    const rows = (count: number) => labelSlots(count, 720, 124)?.slots.some(({ row }) => row === 1) ?? null;
    expect([1, 5, 6, 10, 11].map(rows)).toEqual([false, false, true, true, null]);
  });
});

describe('lines of a label', () => {
  it('are at most two, no longer than the width, and end with … where something is cut off', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 80 }), fc.integer({ min: 40, max: 300 }), (text, width) => {
        const lines = labelLines(text, width, 13);
        expect(lines.length).toBeLessThanOrEqual(2);
        const most = Math.floor(width / (0.66 * 13));
        for (const line of lines) expect([...line].length).toBeLessThanOrEqual(most);
      }),
    );
    expect(labelLines('A very long name of a place at the very end of the world', 120, 13)).toEqual([
      'A very long',
      'name of a pl…',
    ]);
  });

  it('keep a figure and its unit together', () => {
    const [label] = layoutOf(6, 'bend at the old fence, 1,741 m').labels;
    expect(label?.bold.at(-1)).toMatch(/1,741\u00A0m$/);
  });
});

describe('the layout of a drawing', () => {
  it('names up to ten marks on paper and numbers more', () => {
    expect(layoutOf(10, 'top').isNamed).toBe(true);
    expect(layoutOf(11, 'top').isNamed).toBe(false);
    expect(layoutOf(11, 'top').labels.map(({ bold }) => bold[0])).toEqual(
      Array.from({ length: 11 }, (_, i) => `${i + 1}`),
    );
  });

  it('puts the second row below the first', () => {
    const { labels, bendTop } = layoutOf(8, 'lake below the shelf');
    const bottom = (i: number) =>
      (labels[i]?.top ?? 0) + 16 * ((labels[i]?.bold.length ?? 0) + (labels[i]?.plain.length ?? 0));
    expect(labels[1]?.top).toBeGreaterThanOrEqual(bottom(0));
    expect(bendTop).toBeGreaterThanOrEqual(bottom(1));
  });

  it('draws no label where there is no mark', () => {
    expect(layoutOf(0, '').labels).toEqual([]);
  });
});
