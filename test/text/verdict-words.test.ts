import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CRITERION_NAMES, type Judgement } from '../../src/rank/criterion.ts';
import { VERDICTS } from '../../src/rank/verdict.ts';
import { questionText, shownVerdict, VERDICT_TEXT } from '../../src/text/verdict-words.ts';

const judgement = (more: Partial<Judgement>): Judgement => ({
  name: 'gain',
  demand: null,
  capacity: null,
  unit: 'm',
  headroom: null,
  value: 1,
  verdict: 'fits',
  reason: '',
  ...more,
});

describe('the words of verdicts', () => {
  it('name every verdict and every criterion, each by words of its own', () => {
    const verdicts = VERDICTS.map((verdict) => VERDICT_TEXT[verdict]);
    const questions = CRITERION_NAMES.map(questionText);
    for (const words of [verdicts, questions]) {
      expect(new Set(words).size).toBe(words.length);
      expect(words.every((text) => /^[a-z]+( [a-z]+)*$/.test(text))).toBe(true);
    }
  });

  it('say of what was not stated that it is to be checked, not that it fits', () => {
    expect(shownVerdict(judgement({}))).toBe('fits');
    expect(shownVerdict(judgement({ toCheck: 'party limit not stated' }))).toBe('to check');
    expect(shownVerdict(judgement({ verdict: 'notYet', toCheck: 'the road' }))).toBe('not yet');
    expect(shownVerdict(judgement({ name: 'aim' }))).toBe('—');
  });

  it('stand in one table that all of the program uses', () => {
    const second = readdirSync('src', { recursive: true, encoding: 'utf8' })
      .map((name) => name.replaceAll('\\', '/'))
      .filter((name) => /\.tsx?$/.test(name) && name !== 'text/verdict-words.ts')
      // The words themselves; what a page advises for a verdict is its own.
      .filter((name) => /(['"`])(not yet|ruled out)\1/i.test(readFileSync(join('src', name), 'utf8')));
    expect(second).toEqual([]);
  });
});
