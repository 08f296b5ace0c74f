import { describe, expect, it } from 'vitest';
import { section } from '../../src/document/people-page.ts';
import type { PlanDocument } from '../../src/document/plan-document.ts';
import { planHtml } from '../../src/document/plan-html.tsx';
import { PLAN, PROFILE } from '../support/plan-document.ts';

const html = planHtml(PLAN);
const body = html.slice(html.indexOf('<body'));

/** A plan of one page with one section. */
const small = (parts: Parameters<typeof section>[1], more: Partial<PlanDocument> = {}): string =>
  planHtml({
    title: 'Grey Horn',
    measures: '9.4 km (5.8 mi)',
    pages: [
      { key: 'leaders', page: { title: 'Leaders', reader: 'leaders', sections: [section('Part', parts)] } },
    ],
    profile: null,
    foot: 'Foot.',
    ...more,
  });
const bodyOf = (text: string): string => text.slice(text.indexOf('<body'));
const count = (text: string, pattern: RegExp): number => [...text.matchAll(pattern)].length;

describe('the page of a plan', () => {
  it('is one file that fetches nothing and runs nothing', () => {
    expect(html).not.toMatch(/https?:|<script|<link|<img|@import|\bsrc=/i);
    expect([...html.matchAll(/url\(([^)]*)\)/g)].filter(([, target]) => !target?.startsWith('#'))).toEqual(
      [],
    );
    expect(html).not.toMatch(/\sstyle="|\son[a-z]+="/);
    expect(count(html, /<style>/g)).toBe(1);
  });

  it('stays under 100 kB for a full plan', () => {
    expect(Buffer.byteLength(html)).toBeLessThan(100_000);
  });

  it('says its language and title', () => {
    expect(html).toMatch(/^<!doctype html>\n<html lang="en">/);
    expect(html).toContain(`<title>${PLAN.title}</title>`);
  });

  it('has one first heading, and none that skips a step', () => {
    const levels = [...body.matchAll(/<h([1-6])[ >]/g)].map(([, level]) => Number(level));
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    expect(levels[0]).toBe(1);
    expect(levels.filter((level, i) => i > 0 && level > (levels[i - 1] ?? 0) + 1)).toEqual([]);
    expect(levels.filter((level) => level === 2)).toHaveLength(PLAN.pages.length);
  });

  it('has landmarks, a way past the menu, and a menu of its pages in order', () => {
    expect(body).toMatch(
      /<a class="skip" href="#plan">.*<header.*<nav[^>]* aria-label=.*<main id="plan" tabindex="-1">/s,
    );
    const targets = [...body.matchAll(/<nav.*?<\/nav>/gs)].flatMap(([nav]) => [
      ...nav.matchAll(/href="#(\w+)"/g),
    ]);
    expect(targets.map(([, id]) => id)).toEqual(PLAN.pages.map(({ key }) => key));
    for (const { key } of PLAN.pages)
      expect(body).toContain(`<article id="${key}" aria-labelledby="${key}-title" tabindex="-1"`);
  });

  it('uses each id once, and refers to none that is missing', () => {
    const ids = [...body.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id ?? '');
    expect(new Set(ids).size).toBe(ids.length);
    const named = [
      ...[...body.matchAll(/(?:aria-labelledby|href)="#?([^"]+)"/g)].flatMap(
        ([, names]) => names?.split(' ') ?? [],
      ),
      ...[...body.matchAll(/url\(#([^)]+)\)/g)].map(([, id]) => id ?? ''),
    ];
    expect(named.filter((id) => !ids.includes(id))).toEqual([]);
  });

  it('gives each table its heading, and each head of a row or column its scope', () => {
    expect(count(body, /<table/g)).toBe(count(body, /<table[^>]* aria-labelledby="/g));
    expect(count(body, /<th[ >]/g)).toBe(count(body, /<th scope="(?:row|col)"/g));
    expect(count(body, /<th[ >]/g)).toBeGreaterThan(40);
  });

  it('prints every text of the model', () => {
    const seen = bodyOf(html)
      .replace(/<[^>]*>/g, '')
      .replaceAll('\u00A0', ' ')
      .replaceAll('&lt;', '<')
      .replaceAll('&amp;', '&');
    const texts = PLAN.pages.flatMap(({ page }) => [
      page.title,
      ...page.sections.flatMap(({ heading, lines, table, ticks, blanks }) => [
        heading,
        ...lines.map(({ text }) => text),
        ...(table?.columns ?? []),
        ...(table?.rows.flat() ?? []),
        ...ticks,
        ...blanks.flatMap((label) => label.split('…')),
      ]),
    ]);
    expect(texts.filter((text) => !seen.includes(text))).toEqual([]);
    expect(count(body, new RegExp(PLAN.foot.slice(0, 30), 'g'))).toBe(PLAN.pages.length);
  });
});

describe('hostile texts', () => {
  const nasty = `<script>alert("1")</script> & 'x' </style><b>`;

  it('are shown as they are wherever they stand', () => {
    const text = small(
      {
        lines: [{ text: nasty, source: nasty }],
        table: { columns: [nasty, 'b', 'c', 'd'], rows: [[nasty, nasty, '', '']], marked: [0] },
        ticks: [nasty],
        blanks: [`${nasty} … by`],
      },
      {
        title: nasty,
        foot: nasty,
        profile: {
          ...PROFILE,
          text: nasty,
          marks: [{ distanceM: 10, heightM: null, name: nasty, times: nasty, by: nasty }],
        },
      },
    );
    expect(text).not.toMatch(/<script|<b>(?!&lt;)|<\/style><b/);
    expect(count(text, /<\/style>/g)).toBe(1);
    expect(count(text, /&lt;script>/g)).toBeGreaterThan(8);
  });

  it('cannot end a rule of the style from the title or the name of a column', () => {
    const evil = '"}body{display:none}\\';
    const text = small(
      { table: { columns: [evil, evil, evil, evil], rows: [['a', 'b', 'c', 'd']], marked: [] } },
      { title: evil },
    );
    const style = text.slice(text.indexOf('<style>'), text.indexOf('</style>'));
    expect(style).not.toContain('body{display:none}');
  });

  it('cannot turn the line around or bring control characters in', () => {
    const text = small({ lines: ['a\u202Eb\u2066c\u0000d\ne'] });
    expect(text).toContain('abc d e');
  });

  it('leaves other scripts as they are', () => {
    expect(small({ lines: ['הר הכרמל, 山, Ğ'] })).toContain('הר הכרמל, 山, Ğ');
  });
});

describe('a part of a page', () => {
  it('has an empty square for each tick and a line for each blank', () => {
    const text = bodyOf(
      small({ ticks: ['One', 'Two'], blanks: ['Time', 'Not at … by', '6 × … = … minutes'] }),
    );
    expect(text).toContain('<ul class="ticks"><li>One</li><li>Two</li></ul>');
    expect(count(text, /<span class="line">/g)).toBe(2);
    expect(count(text, /<span class="gap">/g)).toBe(3);
  });

  it('makes an empty cell one to write in, and says so to those who hear the page', () => {
    const table = { columns: ['Place', 'Passed'], rows: [['top', '']], marked: [] };
    expect(bodyOf(small({ table }))).toContain(
      '<td class="write"><span class="unseen">to fill in</span></td>',
    );
  });

  it('marks the rows that stand out', () => {
    const table = {
      columns: ['Place', 'Time'],
      rows: [
        ['a', '1'],
        ['b', '2'],
      ],
      marked: [1],
    };
    expect(bodyOf(small({ table }))).toMatch(/<tr><th[^>]*>a<.*<tr class="marked"><th[^>]*>b</s);
  });

  it('numbers its sources, each once, and lists them at the end', () => {
    const text = bodyOf(
      small({
        lines: [
          { text: 'A', source: 'NWS' },
          { text: 'B', source: null },
          { text: 'C', source: 'design' },
          { text: 'D', source: 'NWS' },
        ],
      }),
    );
    expect(text).toContain('Sources: [1] NWS; [2] design.');
    expect([...text.matchAll(/<small> \[(\d)\]/g)].map(([, n]) => n)).toEqual(['1', '2', '1']);
    expect(bodyOf(small({ lines: ['A'] }))).not.toContain('Sources');
  });

  it('says in a word that a cell has nothing to say, to those who would hear a dash', () => {
    const text = small({ table: { columns: ['Place', 'Height'], rows: [['Col', '–']], marked: [] } });
    expect(text).toContain('<td><span aria-hidden="true">–</span><span class="unseen">no entry</span></td>');
  });

  it('has the measures in both units at the head of the leaders’ sheet, for paper alone', () => {
    expect(html.match(/class="on-paper"/g)).toHaveLength(1);
    expect(html).toMatch(
      /<article id="leaders"(?:(?!<\/header>).)*<p class="on-paper">9\.4\u00A0km \(5\.8\u00A0mi\)/s,
    );
  });

  it('is a heading alone where it has nothing, and a plan without pages a file all the same', () => {
    expect(bodyOf(small({}))).toContain('<section><h3 id="leaders-1">Part</h3></section>');
    expect(planHtml({ title: 'Empty', measures: '', pages: [], profile: null, foot: '' })).toContain(
      '<main id="plan" tabindex="-1"></main>',
    );
  });
});
