import { describe, expect, it } from 'vitest';
import { contourLevels } from '../../../src/drawing/map/contour-levels.ts';
import { scaleBar } from '../../../src/drawing/map/frame-ticks.ts';
import { mapMarks } from '../../../src/drawing/map/map-marks.ts';
import { mapScale } from '../../../src/drawing/map/map-scale.ts';
import { drawTerrain } from '../../../src/drawing/map/terrain-drawing.ts';
import { netOf } from '../../support/net.ts';

const hill = netOf(101, 81, 30, (eastM, southM) => 2000 - 0.7 * Math.hypot(eastM - 1500, southM - 1200));
const wishes = { treelineM: 1500, units: 'metric', lines: [] } as const;

describe('a map’s ground', () => {
  it('chooses the interval by the relief, in the unit of the reader', () => {
    expect(contourLevels(1200, 2050, 'metric').intervalText).toBe('50 m');
    expect(contourLevels(0, 3500, 'metric').intervalText).toBe('200 m');
    expect(contourLevels(1200, 2050, 'us').intervalText).toBe('100 ft');
    const { levels } = contourLevels(1200, 2050, 'metric');
    expect(levels[0]).toEqual({ heightM: 1250, text: '1,250', isIndex: true });
    expect(levels.filter(({ isIndex }) => isIndex).map(({ text }) => text)).toEqual([
      '1,250',
      '1,500',
      '1,750',
      '2,000',
    ]);
  });

  it('has contours, treeline, what lies above it, steep ground, and no void', async () => {
    const drawn = await drawTerrain(hill, wishes);
    for (const part of ['contours', 'indexContours', 'treeline', 'aboveTreeline', 'steep'] as const) {
      expect(drawn[part], part).toMatch(/^M[-\d.]+ [-\d.]+l/);
    }
    expect(drawn.voids).toBe('');
    expect(drawn.voidShare).toBe(0);
    expect(drawn.labels.length).toBeGreaterThan(0);
  });

  it('draws no treeline where none is known, and none above all of the ground', async () => {
    for (const treelineM of [null, 2100]) {
      const { treeline, aboveTreeline } = await drawTerrain(hill, { ...wishes, treelineM });
      expect([treeline, aboveTreeline]).toEqual(['', '']);
    }
  });

  it('shows voids as voids, and says so where nothing is known', async () => {
    const heightsM = hill.heightsM.map((heightM, i) => (i % 101 < 20 ? Number.NaN : heightM));
    const some = await drawTerrain({ ...hill, heightsM }, wishes);
    expect(some.voids).not.toBe('');
    expect(some.voidShare).toBeCloseTo(20 / 101, 6);
    const none = await drawTerrain({ ...hill, heightsM: heightsM.map(() => Number.NaN) }, wishes);
    expect(none).toMatchObject({ intervalText: null, contours: '', steep: '', voidShare: 1 });
  });

  it('is true to scale both ways, and finds a longitude in any turn', () => {
    const scale = mapScale(hill);
    expect(scale.width / scale.height).toBeCloseTo(100 / 80, 6);
    expect(scale.ofPlace(-30.3 + 0.0004 * 50, 46.2 - 0.0003 * 40)).toEqual(
      scale.ofNet([50, 40]).map((one) => expect.closeTo(one, 4)),
    );
    expect(scale.ofPlace(329.7, 46.2)[0]).toBeCloseTo(0, 6);
    expect(scaleBar(scale.unitsPerM, 260, 'metric')).toEqual({
      text: '1 km',
      length: expect.closeTo(1000 * scale.unitsPerM, 6),
    });
    expect(scaleBar(scale.unitsPerM, 260, 'us').text).toBe('0.5 mi');
  });

  it('gives places on top of each other one mark with both numbers', () => {
    expect(
      mapMarks(
        [
          [0, 0],
          [90, 0],
          [3, 4],
        ],
        true,
      ),
    ).toEqual([
      { x: 0, y: 0, text: '1, 3', isStart: true },
      { x: 90, y: 0, text: '2', isStart: false },
    ]);
  });
});
