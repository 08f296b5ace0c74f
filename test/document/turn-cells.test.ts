import { describe, expect, it } from 'vitest';
import { retreatCell, wayDownRead } from '../../src/document/turn-cells.ts';
import { at } from './day-facts.ts';

const clock = (ms: number) => new Date(ms - at('00:00')).toISOString().slice(11, 16);
const place = {
  kind: 'high',
  retreatMs: at('10:42'),
  retreatWay: 'back',
  goingUp: true,
  at: { p10Ms: at('08:11'), p50Ms: at('08:36'), p90Ms: at('09:00') },
} as const;

describe('the time to start down', () => {
  it('names the way, and says that it is no leave to climb until then', () => {
    expect(retreatCell(place, clock)).toBe('10:42 back');
    expect(retreatCell({ ...place, retreatWay: 'onward' }, clock)).toBe('10:42 on');
    expect(wayDownRead(['–', '10:42 back'])).toMatch(/Neither is leave to climb until then/);
    expect(wayDownRead(['–', '10:42'])).toBeNull();
  });

  it('is none at treeline on the way up, where it would be the deadline itself', () => {
    expect(retreatCell({ ...place, kind: 'treelineUp', retreatMs: at('11:06') }, clock)).toBe('–');
  });

  it('cannot be met where even an early arrival is later', () => {
    expect(retreatCell({ ...place, retreatMs: at('08:00') }, clock)).toBe('cannot be met');
  });
});
