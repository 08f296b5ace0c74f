import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AgeBand, DESIGN } from '../../src/design.ts';
import { leastLeaders } from '../../src/rank/party.ts';

const least = (participants: number, leaders: number | null, ageBand: AgeBand | null) =>
  leastLeaders({ participants, leaders, ageBand }, DESIGN);

describe('the least number of leaders', () => {
  it('keeps a party together that cannot give each part its leaders', () => {
    expect(least(9, 2, '12-14')).toMatchObject({ eachPart: 2, whole: 2, mayDivide: false });
    expect(least(9, 2, 'adult').mayDivide).toBe(true);
    expect(least(9, 0, 'adult').mayDivide).toBe(false);
  });

  it('uses the rule for the youngest where the age is not stated, and is not sure without a count of leaders', () => {
    expect(least(13, null, null)).toMatchObject({ eachPart: 2, whole: 3, mayDivide: null });
  });

  it('never falls as the party grows', () => {
    const bands = fc.constantFrom<AgeBand>('8-11', '12-14', '15-17', 'adult');
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 499 }), bands, (participants, band) => {
        expect(least(participants + 1, 2, band).whole).toBeGreaterThanOrEqual(
          least(participants, 2, band).whole,
        );
      }),
    );
  });
});
