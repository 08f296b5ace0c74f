import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { emergencyPage, whoStaysWhoGoes } from '../../src/document/emergency-page.ts';
import { BARE, DAY, pageText, sectionOf, sectionText } from './day-facts.ts';

const page = emergencyPage(DAY, 'metric', DESIGN);

describe('the emergency page', () => {
  it('gives each place to be read over a phone, one that is passed twice once', () => {
    const { table } = sectionOf(page, 'Say where');
    expect(table?.rows.map(([name]) => name)).not.toContain('end');
    expect(table?.rows[2]).toEqual([
      'top',
      '1,950 m',
      '46.10510 N, 30.25040 W',
      '46° 06.306′ N, 30° 15.024′ W',
      '26T LS 1234 5678',
    ]);
  });

  it('gives way, distance and both times out from each place on the way, and a blank row where none is known', () => {
    const { table, lines } = sectionOf(page, 'The way out');
    expect(table?.rows[0]).toEqual([
      'treeline, up',
      'back the way you came',
      '3.2 km',
      '1 h 15 min',
      '1 h 50 min',
    ]);
    expect(table?.rows[1]).toEqual(['top', '', '', '', '']);
    expect(lines.map(({ text }) => text).join(' ')).toMatch(/fill them in from the map/);
  });

  it('says once that those whose breathing lightning has stopped are helped first', () => {
    expect(pageText(page).match(/breathing stopped, resuscitate those first/g)).toHaveLength(1);
  });

  it('takes phone coverage, which nothing states, as none', () => {
    expect(pageText(page)).toContain('take it that there is none');
  });

  it('has blanks for the numbers to call and prints none itself', () => {
    const call = sectionOf(page, 'Call');
    expect(call.blanks).toContain('Emergency number of the place');
    expect(sectionText(call)).not.toMatch(/\b(112|911|999)\b/);
  });

  it('has sense where hardly anything is known', () => {
    expect(pageText(emergencyPage(BARE, 'us', DESIGN))).not.toMatch(/null|NaN|undefined/);
  });
});

describe('who stays and who goes', () => {
  const advice = (participants: number, leaders: number | null, ageBand: 'adult' | '12-14' | null) =>
    whoStaysWhoGoes({ participants, leaders, ageBand }, DESIGN).join(' ');

  it('keeps two leaders and nine minors together', () => {
    expect(advice(9, 2, '12-14')).toMatch(/2 leaders, 2 needed in each part: the party does not divide/);
  });

  it('sends two leaders where two more stay with the minors', () => {
    expect(advice(9, 4, '12-14')).toMatch(
      /2 leaders go for help, together.*All the minors stay, with at least 2 leaders/,
    );
    expect(advice(9, 4, '12-14')).toMatch(/If a leader is the one who is hurt, the party does not divide/);
    expect(advice(9, 5, '12-14')).toMatch(/A hurt leader does not count/);
  });

  it('sends nobody alone from a party of adults', () => {
    expect(advice(4, 2, 'adult')).toMatch(/at least 2 go for help, together, 1 leader among them/);
    expect(advice(2, 1, 'adult')).toMatch(/too few to divide/);
  });

  it('does not divide a party whose leaders are not stated', () => {
    expect(advice(9, null, null)).toMatch(/Leaders not stated: the party does not divide/);
  });
});
