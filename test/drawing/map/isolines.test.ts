import { describe, expect, it } from 'vitest';
import { isolines, regions } from '../../../src/drawing/map/isolines.ts';
import { netOf } from '../../support/net.ts';

const SIZE = 101;
const MIDDLE = 50;
/** A cone of 1,000 m that loses 10 m a step. */
const cone = netOf(SIZE, SIZE, 1, (x, y) => 1000 - 10 * Math.hypot(x - MIDDLE, y - MIDDLE));
const net = { columns: SIZE, rows: SIZE, values: cone.heightsM };

describe('contour lines', () => {
  it.each([900, 800, 650, 550])('lie at the radius that a cone has at %i m', (level) => {
    const [line, ...others] = isolines(net, level);
    expect(others).toEqual([]);
    expect(line?.isClosed).toBe(true);
    const radius = (1000 - level) / 10;
    const off = (line?.points ?? []).map(([x, y]) => Math.abs(Math.hypot(x - MIDDLE, y - MIDDLE) - radius));
    // The cone's surface bends between values; lines between them are straight.
    expect(Math.max(...off)).toBeLessThan(0.03);
    expect(line?.points.length).toBeGreaterThan(4 * radius);
  });

  it('lie where a plane has the height, to the end of the net', () => {
    const plane = netOf(40, 30, 1, (x) => 3 * x);
    const lines = isolines({ columns: 40, rows: 30, values: plane.heightsM }, 31.5);
    expect(lines).toHaveLength(1);
    expect(lines[0]?.isClosed).toBe(false);
    expect(lines[0]?.points.every(([x]) => Math.abs(x - 10.5) < 1e-6)).toBe(true);
    expect(lines[0]?.points).toHaveLength(30);
  });

  it('are no frame: a line that leaves the net ends at its edge', () => {
    const lines = isolines(net, 450);
    expect(lines).toHaveLength(4);
    const points = lines.flatMap(({ points: all }) => all);
    expect(points.every(([x, y]) => Math.abs(Math.hypot(x - MIDDLE, y - MIDDLE) - 55) < 0.05)).toBe(true);
  });

  it('end at a void and do not run round it', () => {
    const values = cone.heightsM.slice();
    for (let y = 40; y <= 60; y += 1) for (let x = 60; x <= 80; x += 1) values[y * SIZE + x] = Number.NaN;
    const lines = isolines({ ...net, values }, 800);
    expect(lines.map(({ isClosed }) => isClosed)).toEqual([false]);
    const points = lines.flatMap(({ points: all }) => all);
    expect(points.every(([x, y]) => Math.abs(Math.hypot(x - MIDDLE, y - MIDDLE) - 20) < 0.03)).toBe(true);
    expect(points.some(([x, y]) => x > 60 && y > 40 && y < 60)).toBe(false);
  });

  it('leave out rings of a step or two, and give none where nothing is known', () => {
    const values = new Float32Array(400).fill(10);
    values[210] = 11;
    expect(isolines({ columns: 20, rows: 20, values }, 10.5)).toEqual([]);
    expect(isolines({ columns: 20, rows: 20, values: values.map(() => Number.NaN) }, 10.5)).toEqual([]);
  });
});

describe('regions', () => {
  it('hold the area of the cone above a height, and every void however small', () => {
    const [ring = []] = regions(net, 800, 4);
    const area = Math.abs(
      ring.reduce((sum, [x, y], i) => {
        const [px, py] = ring[i - 1] ?? ring.at(-1) ?? [0, 0];
        return sum + px * y - x * py;
      }, 0) / 2,
    );
    expect(Math.abs(area / (Math.PI * 20 ** 2) - 1)).toBeLessThan(0.005);
    const values = new Float32Array(100);
    values[44] = 1;
    expect(regions({ columns: 10, rows: 10, values }, 0.5, 0)).toHaveLength(1);
  });
});
