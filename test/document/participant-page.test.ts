import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { participantPage } from '../../src/document/participant-page.ts';
import { BARE, DAY, pageText, sectionOf, sectionText } from './day-facts.ts';

const page = participantPage(DAY, 'metric', DESIGN);

describe('the participants’ page', () => {
  it('says when to meet, start and be back, middle and late', () => {
    const text = sectionText(sectionOf(page, 'What'));
    expect(text).toContain('Grey Horn, from Mill Bridge, on Saturday, 11 July 2026.');
    expect(text).toContain('9.4 km, 940 m up, highest point 1,950 m');
    expect(text).toContain('Meet 04:10.');
    expect(text).toContain('Start walking 05:00. Back at about 12:30, perhaps not before 13:25');
    expect(text).toContain('below treeline by 12:00');
  });

  it('rounds water and food up, and prints the kit and the steps of training', () => {
    const text = pageText(page);
    expect(text).toContain('Water: 3.5 L, full');
    expect(text).toContain('about 1,850 kcal');
    expect(text).toContain('Warm hat');
    expect(text).toContain('By 27 June: a day of 9 km.');
  });

  it('says the spare date, who goes along, what is on the feet and whom families ring', () => {
    const text = pageText(page);
    expect(text).toContain('If it cannot be that day: Sunday, 12 July 2026.');
    expect(text).toContain('9 participants with 2 leaders.');
    expect(text).toContain('Boots or strong shoes');
    expect(text).toContain('Who families ring on the day');
  });

  it('says where steep ground leaves the class in doubt, and calls nothing sure then', () => {
    const doubted = participantPage({ ...DAY, rockClass: '1', classInDoubt: 3 }, 'metric', DESIGN);
    const ground = sectionOf(doubted, 'How hard');
    expect(sectionText(ground)).toContain(
      'Not sure yet: some of the ground is so steep that it may be class 3',
    );
    expect(ground.table?.rows.map((row) => row[2])).toEqual(['stated', '–', 'perhaps', '–', '–']);
    expect(pageText(page)).not.toContain('Not sure yet');
  });

  it('names falls and cold plainly, with what to do', () => {
    const text = sectionText(sectionOf(page, 'What can go wrong'));
    expect(text).toMatch(/Falling: .*Short steps, eyes on your feet/);
    expect(text).toMatch(/Cold: .*before you shiver/);
  });

  it('marks this route’s class', () => {
    const { table } = sectionOf(page, 'How hard');
    expect(table?.marked).toEqual([1]);
  });

  it('fits on one page', () => {
    const lines = page.sections.flatMap((part) => sectionText(part).split('\n'));
    const printed = lines.reduce((sum, line) => sum + Math.ceil(line.length / 100), 0);
    expect(printed).toBeLessThanOrEqual(70);
  });

  it('has sense where hardly anything is known', () => {
    const text = pageText(participantPage(BARE, 'metric', DESIGN));
    expect(text).toContain('Meet at (time)');
    expect(text).toContain('class of this route is not stated');
    expect(text).toContain('When will we be back?');
    expect(text).not.toMatch(/null|NaN|undefined/);
  });
});

describe('the pencil box', () => {
  it('states the trade rule in whole numbers and asks when to start', () => {
    const box = sectionText(sectionOf(page, 'Work out'));
    expect(box).toContain('19 minutes for each of the kilometres');
    expect(box).toContain('20 minutes more for each of the hundreds of metres');
    expect(box).toContain('when must we start to be there by 12:00?');
    const us = sectionText(sectionOf(participantPage(DAY, 'us', DESIGN), 'Work out'));
    // The trade rule: 30 min a mile, 1 h per 1,000 ft (common practice, no source).
    expect(us).toContain('30 minutes for each of the miles');
    expect(us).toContain('60 minutes more for each of the thousands of feet');
  });
});
