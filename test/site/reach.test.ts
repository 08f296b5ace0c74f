import { h } from 'preact';
import { render } from 'preact-render-to-string';
import { describe, expect, it } from 'vitest';
import { Reach, reachText } from '../../src/site/reach.tsx';

const MARKS = [
  { name: 'distance', ratio: 0.5, met: 'yes' },
  { name: 'gain', ratio: 1.2, met: 'no' },
  { name: 'effort', ratio: 3, met: 'no' },
  { name: 'season', ratio: null, met: 'yes' },
  { name: 'altitude', ratio: null, met: 'no' },
  { name: 'drive', ratio: null, met: 'notKnown' },
] as const;

describe('the drawing of demand against capacity', () => {
  it('says all of it in words', () => {
    expect(reachText(MARKS)).toBe(
      'Demand as a share of what the group can do: distance 50 %, climb 120 %, work of the day 300 %, season met, altitude not met, drive not known.',
    );
  });

  it('draws what lies within reach below the line and the rest above it, by shape and not by colour', () => {
    const svg = render(h(Reach, { marks: MARKS }));
    const path = (name: string) => new RegExp(`class="${name}" d="([^"]*)"`).exec(svg)?.[1] ?? '';
    expect(path('w').match(/z/g)).toHaveLength(3);
    expect(path('b').match(/z/g)).toHaveLength(2);
    // Only the one that is cut off has an open top.
    expect(path('o').match(/M/g)).toHaveLength(1);
    expect(path('r').match(/M/g)).toHaveLength(1);
    expect(path('x').match(/M/g)).toHaveLength(1);
    expect(path('u').match(/M/g)).toHaveLength(1);
    expect(svg).not.toMatch(/#[0-9a-f]{3}|rgb|red|green/i);
  });
});
