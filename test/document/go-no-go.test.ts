import { describe, expect, it } from 'vitest';
import { lightningBackground } from '../../src/day/lightning-background.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { goNoGo, thunderUntilMs } from '../../src/document/go-no-go.ts';
import type { PlanFacts } from '../../src/document/plan-facts.ts';
import { at, BARE, DAY, pageText, sectionOf, sectionText } from './day-facts.ts';

const card = (changes: Partial<PlanFacts> = {}) => goNoGo({ ...DAY, ...changes }, 'metric', DESIGN);
const noGo = (changes: Partial<PlanFacts> = {}) => sectionText(sectionOf(card(changes), 'Take the lower'));

describe('the morning card', () => {
  it('forbids the high route for thunder within an hour of the late time back below treeline', () => {
    expect(noGo()).toContain(
      'Thunder is forecast before 12:10 (back below treeline by 11:10 in nine days of ten, and 1 h more)',
    );
  });

  it('never allows thunder before the deadline, up to which the group may be high', () => {
    const deadlineMs = at('12:30');
    expect(thunderUntilMs({ ...DAY, deadlineMs }, DESIGN).atMs).toBe(deadlineMs);
    expect(noGo({ deadlineMs })).toContain('before 12:30 (the deadline');
  });

  it('uses the late time at the end where no place below treeline is known', () => {
    expect(goNoGo(BARE, 'metric', DESIGN).sections.map(sectionText).join('\n')).toContain(
      'before 14:25 (back at the end of the route by 13:25',
    );
  });

  it('gives wind and sight in the reader’s units, never more than set', () => {
    expect(noGo()).toMatch(/over 40 km\/h, or gusts over 60 km\/h/);
    expect(noGo()).toContain('less than 200 m');
    const us = pageText(goNoGo(DAY, 'us', DESIGN));
    expect(us).toMatch(/over 24 mph, or gusts over 37 mph/);
    expect(us).toContain('less than 220 yards');
    const calm = withChanges({ cards: { windKmPerH: 30 } });
    expect(pageText(goNoGo(DAY, 'metric', calm))).toContain('over 30 km/h');
  });

  it('says how many leaders this party needs', () => {
    expect(noGo()).toContain('Fewer than 2 leaders for 9 participants');
    expect(noGo({ party: { participants: 17, leaders: 3, ageBand: '12-14' } })).toContain(
      'Fewer than 3 leaders',
    );
  });

  it('lists each checkpoint with its turn-back time and room for ours', () => {
    const { table } = sectionOf(card(), 'On the way');
    expect(table?.rows).toEqual([
      ['treeline, up', '07:42', '–', ''],
      ['top', '10:05', '10:05', ''],
    ]);
  });

  it('asks for turn-back times where none could be worked out', () => {
    expect(sectionText(sectionOf(goNoGo(BARE, 'metric', DESIGN), 'On the way'))).toMatch(
      /Agree on them before/,
    );
  });

  it('sets the lower choice beside the first, and leaves blanks where there is none', () => {
    const { table, lines } = sectionOf(card(), 'The choices');
    expect(table?.rows).toEqual([
      ['Route', 'Grey Horn', 'Lake Bench'],
      ['Distance', '9.4 km', '6.1 km'],
      ['Climb', '940 m', '420 m'],
      ['How it fits', 'stretch', 'fits'],
    ]);
    expect(lines.map(({ text }) => text)).toEqual(['Spare date: 2026-07-12.']);
    const open = sectionOf(goNoGo(BARE, 'metric', DESIGN), 'The choices');
    expect(open.table?.rows.map((row) => row[2])).toEqual(['', '', '', '']);
    expect(open.blanks).toEqual(['Spare date']);
  });

  it('prints a verdict of ground flat as it is: a climb of 0 is not a blank', () => {
    expect(sectionOf(card({ gainM: 0 }), 'The choices').table?.rows[2]?.[1]).toBe('0 m');
  });

  it('speaks of steep snow by what is known', () => {
    expect(noGo({ steepSnow: true })).toMatch(/on this route\. It may/);
    expect(noGo({ steepSnow: null })).toMatch(/not known: find out/);
  });

  it('leaves the decision to the lead leader, with a line to sign', () => {
    const decision = sectionOf(card(), 'Decision');
    expect(sectionText(decision)).toMatch(/lead leader decides/);
    expect(decision.blanks).toContain('Lead leader, signature');
  });

  it('shows the lightning of the region as background, with its source', () => {
    const lightning = lightningBackground({ lonDeg: -105.615, latDeg: 40.255 }, 7);
    const [line] = sectionOf(card({ lightning }), 'This morning').lines.slice(1);
    expect(line?.text).toMatch(/no forecast.*2 % at 10:00, 10 % at 11:00, 33 % at 12:00, 69 % at 13:00/);
    expect(line?.source).toMatch(/Weather Service/);
    expect(pageText(card())).not.toMatch(/Background/);
  });
});
