import { describe, expect, it } from 'vitest';
import { pagesText } from '../../src/cli/pages-text.ts';
import { DESIGN } from '../../src/design.ts';
import { goNoGo } from '../../src/document/go-no-go.ts';
import { participantPage } from '../../src/document/participant-page.ts';
import { type PeoplePage, section } from '../../src/document/people-page.ts';
import type { PlanDocument } from '../../src/document/plan-document.ts';
import { DAY } from '../document/day-facts.ts';

const pageOf = (title: string, ...sections: PeoplePage['sections']): PeoplePage => ({
  title,
  reader: 'leaders',
  sections,
});
const documentOf = (...pages: PlanDocument['pages']): PlanDocument => ({
  title: 'Grey Horn',
  measures: '9.4 km (5.8 mi)',
  pages,
  profile: null,
  foot: 'The leader on the spot decides.',
});
const textOf = (...sections: PeoplePage['sections']): string =>
  pagesText(documentOf({ key: 'leaders', page: pageOf('Day', ...sections) }), null);

describe('pagesText', () => {
  it('prints the pages in their order and the foot once', () => {
    const document = documentOf(
      { key: 'leaders', page: pageOf('Leaders’ sheet') },
      { key: 'office', page: pageOf('Office') },
    );
    expect(pagesText(document, null)).toBe(
      'Leaders’ sheet\n==============\n\n\nOffice\n======\n\n\nThe leader on the spot decides.',
    );
  });

  it('prints only the pages asked for, with the foot', () => {
    const document = documentOf(
      { key: 'morning', page: goNoGo(DAY, 'metric', DESIGN) },
      { key: 'participants', page: participantPage(DAY, 'metric', DESIGN) },
    );
    const text = pagesText(document, ['participants']);
    expect(text).toContain('Meet 04:10.');
    expect(text).not.toContain('Lower choice');
    expect(text).toMatch(/The leader on the spot decides\.$/);
    expect(pagesText(document, [])).toBe('The leader on the spot decides.');
    expect(pagesText(document, ['office'])).toBe('The leader on the spot decides.');
  });

  it('puts the source of a line in brackets behind it', () => {
    const text = textOf(
      section('Rules', { lines: [{ text: 'Drink.', source: 'common practice' }, 'Eat.', null] }),
    );
    expect(text).toContain('\n\nRules\n  Drink. [common practice]\n  Eat.\n');
  });

  it('has boxes to tick and blanks to write on, long enough behind any label', () => {
    const long = 'What the forecast of the morning says about thunder and wind';
    const text = textOf(
      section('Check', { ticks: ['Rain jacket', 'word '.repeat(40).trim()], blanks: ['Leader', long] }),
    );
    expect(text).toContain('  [ ] Rain jacket\n');
    // The second line of a long one hangs behind its box.
    expect(text).toMatch(/\n {2}\[ \] word [^\n]+\n {6}word/);
    expect(text).toMatch(/\n {2}Leader: _{44}\n/);
    expect(text).toContain(`${long}: ________`);
  });

  it('leaves room to write in the empty cells of a table, not in an empty head', () => {
    const text = textOf(
      section('Choice', {
        table: { columns: ['', 'Lower choice'], rows: [['Route', '']], marked: [] },
      }),
    );
    expect(text).toContain('\n         Lower choice\n  Route  ______\n');
  });

  it('stays within its width but for words that are longer', () => {
    const page = participantPage(DAY, 'metric', DESIGN);
    const lines = pagesText(documentOf({ key: 'participants', page }), null).split('\n');
    for (const line of lines) expect([...line].length).toBeLessThanOrEqual(110);
    const wide = textOf(
      section('Wide', {
        table: {
          columns: Array.from({ length: 9 }, (_, i) => `Column ${i + 1}`),
          rows: [Array.from({ length: 9 }, () => 'some words that have to be broken')],
          marked: [],
        },
      }),
    );
    for (const line of wide.split('\n')) expect([...line].length).toBeLessThanOrEqual(110);
  });
});
