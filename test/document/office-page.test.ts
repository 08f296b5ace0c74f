import { describe, expect, it } from 'vitest';
import { DESIGN, withChanges } from '../../src/design.ts';
import { officePage } from '../../src/document/office-page.ts';
import { BARE, DAY, pageText, sectionOf, sectionText } from './day-facts.ts';

const page = officePage(DAY, 'metric', DESIGN);

describe('the office’s page', () => {
  it('counts people, and leaves a blank line for each leader', () => {
    const who = sectionOf(page, 'Who');
    expect(sectionText(who)).toContain('9 participants, aged 12 to 14; 2 leaders.');
    expect(who.blanks.filter((label) => /leader/i.test(label))).toEqual([
      'Lead leader, phone',
      'Leader 2, phone',
    ]);
  });

  it('says when the party is overdue: asked for at the late time, help called an hour later', () => {
    const when = sectionText(sectionOf(page, 'When'));
    expect(when).toContain('Not heard of by 13:25: ring the leaders');
    expect(when).toContain('Not heard of by 14:25 (1 h more): call for help.');
    const sooner = officePage(DAY, 'metric', withChanges({ cards: { callOutAfterLateMin: 0 } }));
    expect(pageText(sooner)).toContain('Not heard of by 13:25 (0 min more): call for help.');
  });

  it('has boxes for consent, medical forms and first aid', () => {
    const ticks = sectionOf(page, 'In order').ticks.join('\n');
    expect(ticks).toMatch(/Consent/);
    expect(ticks).toMatch(/Medical form/);
    expect(ticks).toMatch(/First-aid certificates/);
  });

  it('says where they start, and says so when leaders are too few', () => {
    expect(sectionText(sectionOf(page, 'Where'))).toContain('46.10510 N, 30.20340 W, grid 26T LS 1234 5678');
    const few = officePage({ ...DAY, party: { ...DAY.party, leaders: 1 } }, 'metric', DESIGN);
    expect(pageText(few)).toContain('Fewer leaders than the 2');
    expect(pageText(page)).not.toContain('Fewer leaders');
  });

  it('has sense where hardly anything is known', () => {
    const text = pageText(officePage(BARE, 'metric', DESIGN));
    expect(text).toContain('leaders not stated');
    expect(text).not.toMatch(/null|NaN|undefined/);
  });
});
