import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { emergencyPage } from '../../src/document/emergency-page.ts';
import { goNoGo } from '../../src/document/go-no-go.ts';
import { officePage } from '../../src/document/office-page.ts';
import { participantPage } from '../../src/document/participant-page.ts';
import type { PeoplePage } from '../../src/document/people-page.ts';
import { allCautions, leastLeadersText } from '../../src/document/plan-cautions.ts';
import type { PlanFacts } from '../../src/document/plan-facts.ts';
import type { UnitSystem } from '../../src/units.ts';
import { BARE, DAY, pageText } from './day-facts.ts';

const PAGES: readonly [string, (facts: PlanFacts, units: UnitSystem, design: typeof DESIGN) => PeoplePage][] =
  [
    ['morning card', goNoGo],
    ['participants’ page', participantPage],
    ['office’s page', officePage],
    ['emergency page', emergencyPage],
  ];

describe('the cautions of a plan', () => {
  it('say whether the party may divide', () => {
    const party = { participants: 9, leaders: 2, ageBand: '12-14' } as const;
    expect(leastLeadersText(party, DESIGN)).toMatch(/leaders: 2 here\. With 2 leaders it stays together/);
    expect(leastLeadersText({ ...party, leaders: 4 }, DESIGN)).toMatch(/2 parts at most/);
  });

  it('speak of altitude, lightning, heat, cold, water, minors and who decides, each with a source', () => {
    const lines = allCautions(DAY.party, 'metric', DESIGN);
    const text = lines.map((line) => line.text).join('\n');
    for (const word of [
      /^Altitude/m,
      /^Lightning/m,
      /^Heat/m,
      /^Cold/m,
      /^Water.*Not too much/m,
      /^Minors/m,
      /lead leader on the spot decides/,
      /^Local rules.*come first/m,
      /30 minutes after the last thunder/,
      /6 m apart/,
      /minimum of leaders: 2 here/,
    ]) {
      expect(text).toMatch(word);
    }
    expect(lines.filter(({ source }) => source === null)).toEqual([]);
    expect(lines.find(({ text: line }) => line.includes('wait 30'))?.source).toContain('from memory');
    expect(
      allCautions(DAY.party, 'us', DESIGN)
        .map((line) => line.text)
        .join('\n'),
    ).toContain('20 ft apart');
  });

  it('leave minors out for adults alone', () => {
    const lines = allCautions({ ...DAY.party, ageBand: 'adult' }, 'metric', DESIGN);
    expect(lines.map((line) => line.text).join('\n')).not.toMatch(/Minors/);
  });
});

describe.each(PAGES)('the %s', (_, make) => {
  const texts = [DAY, BARE].flatMap((facts) =>
    (['metric', 'us'] as const).map((units) => pageText(make(facts, units, DESIGN))),
  );

  it('says who decides and that turning round is right', () => {
    for (const text of texts) expect(text).toMatch(/[Tt]urning round is always right/);
  });

  it('has no word on medicines', () => {
    for (const text of texts) {
      expect(text).not.toMatch(
        /medicin|medicat|tablet|\bpills?\b|\bdrugs?\b|\bdos(e|age)s?\b|painkiller|aspirin|ibuprofen|paracetamol|acetaminophen|acetazolamide|dexamethasone|nifedipine/i,
      );
    }
  });

  it('prints neither a label nor a name, even where the facts were made from a record that has them', () => {
    const record = {
      ...DAY,
      cohort: { name: 'Quillfeather Club', members: ['m1', 'zz-77'], going: ['m1'] },
      party: { ...DAY.party, members: ['m1', 'zz-77'], leaderNames: ['Ada Quillfeather'] },
    };
    const printed = JSON.stringify(make(record, 'metric', DESIGN));
    expect(printed).not.toMatch(/\bm1\b|zz-77|Quillfeather/);
  });

  it('is the same each time, and plain data', () => {
    const page = make(DAY, 'metric', DESIGN);
    expect(make(DAY, 'metric', DESIGN)).toEqual(page);
    expect(JSON.parse(JSON.stringify(page))).toEqual(page);
  });

  it('calls neither the day nor the route safe', () => {
    for (const text of texts)
      expect(text).not.toMatch(/(?<!Nobody can promise that a )\b(mountain day|route|way|ground) is safe\b/);
  });
});
