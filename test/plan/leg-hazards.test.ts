import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { classNote, hazardText } from '../../src/document/route-card-text.ts';
import type { LegGround } from '../../src/plan/leg-ground.ts';
import { hazardsOf } from '../../src/plan/route-card.ts';

const EASY: LegGround = {
  climbM: 100,
  dropM: 0,
  aboveTreelineM: 0,
  maybeAboveTreelineM: 0,
  surface: 'trail',
  steepestRatio: 0.1,
  hasGap: false,
};
const words = (
  ground: Partial<LegGround>,
  more: { to?: 'high' | 'end'; rockClass?: string; surface?: 'snow' } = {},
) =>
  hazardsOf(
    { ...EASY, ...ground },
    { kind: more.to ?? 'end' },
    { rockClass: more.rockClass ?? null, surface: more.surface ?? null },
    DESIGN.routeCard,
  ).map((hazard) => hazardText(hazard, 'metric'));

describe('what to watch for on a leg', () => {
  it('is nothing on easy ground below treeline', () => {
    expect(words({})).toEqual([]);
  });

  it('names ground above treeline, and ground that may be', () => {
    expect(words({ aboveTreelineM: 1240, maybeAboveTreelineM: 300 })).toEqual([
      'above treeline for 1.2 km',
      'perhaps above treeline for 0.3 km',
    ]);
  });

  it('names a steep grade with its way, from the setting on', () => {
    expect(words({ steepestRatio: -0.42 })).toEqual(['steep down: 42 % over 200 m']);
    expect(words({ steepestRatio: 0.301 })).toEqual(['steep up: 30 % over 200 m']);
    expect(words({ steepestRatio: 0.3 })).toEqual([]);
    expect(hazardText({ kind: 'steep', ratio: 0.4 }, 'us')).toBe('steep up: 40 % over 650 ft');
  });

  it('says whether the surface was stated', () => {
    expect(words({ surface: 'snow' }, { surface: 'snow' })).toEqual(['snow']);
    expect(words({ surface: 'rough' })).toEqual(['counted as rough ground (not stated)']);
  });

  it('says what is missing instead of keeping still', () => {
    expect(words({ climbM: null })).toEqual(['heights missing: look at the map']);
    expect(words({ climbM: null, hasGap: true })).toEqual([
      'the line has a gap: the way is longer than shown, look at the map',
    ]);
  });

  it('puts the class of a summit block on the leg to the top alone', () => {
    expect(words({}, { rockClass: '3s4', to: 'high' })).toEqual(['the last piece to the top is class 4']);
    expect(words({}, { rockClass: '3s4', to: 'end' })).toEqual([]);
  });
});

describe('the class on the card', () => {
  it('is said once, without a place that nobody knows', () => {
    expect(classNote('2+')).toBe('Class 2+ somewhere on the route: where is not known.');
    expect(classNote('3s4')).toBe('Class 3 somewhere on the route: where is not known.');
    expect(classNote('1')).toBeNull();
    expect(classNote(null)).toBe('The class of the rock is not stated.');
  });
});
