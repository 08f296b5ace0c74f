import { expect, it } from 'vitest';
import { orderSentences } from '../../src/text/order-words.ts';

/** What is said of a list whose places are level two by two. */
function said(groups: number): string {
  const level = Array.from({ length: groups }, (_, i) => ({ from: 2 * i + 1, to: 2 * i + 2 }));
  const order = { trials: 1000, clearWinner: false, level };
  const certainty = { firstShare: 0.3, rankLow: 1, rankHigh: 2, order };
  const places = [1, 2].map((rank) => ({ name: `Hill ${rank}`, rank, certainty }));
  return orderSentences(places, []).join(' ');
}

it('the places that are level are told as far as anybody chooses among them, and the others counted', () => {
  expect(said(0)).not.toContain('Level');
  expect(said(2)).toContain('places 1 and 2; 3 and 4. Choose');
  expect(said(6)).toContain('9 and 10; 11 and 12. Choose');
  expect(said(7)).toContain('9 and 10; 11 and 12; and 1 more group further down. Choose');
  expect(said(40)).toContain('11 and 12; and 34 more groups further down. Choose');
});
