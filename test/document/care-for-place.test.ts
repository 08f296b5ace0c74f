import { describe, expect, it } from 'vitest';
import { careForPlace } from '../../src/document/participant-page.ts';

const text = (aboveTreelineMin: number | null) => careForPlace({ aboveTreelineMin }).join('\n');

describe('care for the place', () => {
  it('carries out everything above treeline, and where treeline is not known', () => {
    expect(text(120)).toMatch(/carry it out/);
    expect(text(null)).toMatch(/carry it out/);
    expect(text(0)).not.toMatch(/Above treeline/);
  });

  it('speaks of ground, fires, animals and quiet', () => {
    for (const minutes of [0, 120])
      expect(text(minutes)).toMatch(/path[\s\S]*fires[\s\S]*Animals[\s\S]*Quiet/);
  });
});
