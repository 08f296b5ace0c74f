import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CRITERION_NAMES } from '../../src/rank/criteria/index.ts';
import { judgementsOf } from '../../src/rank/judgement.ts';
import { VERDICTS } from '../../src/rank/verdict.ts';
import { questionText, shownVerdict } from '../../src/text/criteria/index.ts';
import { VERDICT_TEXT } from '../../src/text/verdict-words.ts';
import { fitInput, type Given, mountain } from '../support/fit-input.ts';

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
    const shownOf = (name: string, given: Given = {}) => {
      const judgement = judgementsOf(fitInput(given)).find((one) => one.name === name);
      return judgement === undefined ? null : shownVerdict(judgement);
    };
    const limited = (groupSizeLimit: number) =>
      mountain({ attributes: { rockClass: '2', treelineM: 1800, groupSizeLimit } });
    expect(shownOf('partySize', { route: limited(20) })).toBe('fits');
    expect(shownOf('partySize')).toBe('to check');
    expect(shownOf('partySize', { route: limited(2) })).toBe('ruled out');
    expect(shownOf('aim')).toBe('—');
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
