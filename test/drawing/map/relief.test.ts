import { decode } from 'fast-png';
import { describe, expect, it } from 'vitest';
import { gradients, hillshadePng, shade, slopeRatios } from '../../../src/drawing/map/relief.ts';
import { netOf } from '../../support/net.ts';

const rad = (deg: number): number => (deg * Math.PI) / 180;

/** The usual formula of a hillshade, by slope and aspect: Burrough & McDonnell 1998, as GIS handbooks print it (from memory). */
function byFormula(slopeDeg: number, facesDeg: number): number {
  const zenith = rad(45);
  return Math.max(
    0,
    Math.cos(zenith) * Math.cos(rad(slopeDeg)) +
      Math.sin(zenith) * Math.sin(rad(slopeDeg)) * Math.cos(rad(315 - facesDeg)),
  );
}

/** A plane that falls towards a bearing. */
const plane = (slopeDeg: number, facesDeg: number) =>
  netOf(9, 7, 30, (eastM, southM) => {
    const down = eastM * Math.sin(rad(facesDeg)) - southM * Math.cos(rad(facesDeg));
    return 5000 - Math.tan(rad(slopeDeg)) * down;
  });

describe('relief', () => {
  it.each([
    [0, 0],
    [10, 315],
    [30, 135],
    [30, 45],
    [45, 270],
    [60, 200],
    [70, 135],
  ])(
    'a plane of %i° that faces %i° is as steep, and as bright as the formula says, at its rim too',
    (slopeDeg, facesDeg) => {
      const found = gradients(plane(slopeDeg, facesDeg));
      const wanted = byFormula(slopeDeg, facesDeg);
      found.east.forEach((east, i) => {
        expect(shade(east, found.north[i] ?? 0)).toBeCloseTo(wanted, 4);
      });
      for (const ratio of slopeRatios(found)) {
        expect((Math.atan(ratio) * 180) / Math.PI).toBeCloseTo(slopeDeg, 3);
      }
    },
  );

  it('says nothing of the slope beside a void', () => {
    const net = plane(20, 90);
    net.heightsM[3 * 9 + 4] = Number.NaN;
    const slopes = slopeRatios(gradients(net));
    for (const [column, row] of [
      [4, 3],
      [3, 3],
      [5, 4],
    ] as const) {
      expect(slopes[row * 9 + column]).toBeNaN();
    }
    expect(slopes[1 * 9 + 1]).toBeCloseTo(Math.tan(rad(20)), 4);
  });

  it('is written as greys, clear where no height is known', () => {
    const net = plane(30, 135);
    net.heightsM[0] = Number.NaN;
    const { width, height, channels, data } = decode(hillshadePng(net));
    expect({ width, height, channels }).toEqual({ width: 9, height: 7, channels: 2 });
    expect([data[0], data[1]]).toEqual([0, 0]);
    expect([data.at(-2), data.at(-1)]).toEqual([Math.round(255 * byFormula(30, 135)), 255]);
  });
});
