import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import { DESIGN } from '../../src/design.ts';
import { trainingPage } from '../../src/document/training-page.ts';
import type { TrainingInput } from '../../src/plan/training/question.ts';
import { trainingPlan } from '../../src/plan/training-plan.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { trainingView } from '../../src/views/training-view.ts';
import { COHORT, mountain } from '../support/fit-input.ts';
import { pageText, sectionOf, sectionText } from './day-facts.ts';

const ROUTE = mountain({ lengthUpM: 5000, gainM: 800, baseM: 500, name: 'Lantern Top' });
const KNOWN = mountain({ lengthUpM: 4800, gainM: 760, baseM: 300, name: 'Bell Ridge' });

function pageOf(more: Partial<TrainingInput> = {}, distanceM = 9500, gainM = 700, date = '2026-05-02') {
  const outing = {
    ...handOuting({ date, distanceM, gainM, rockClass: '2' }),
    members: ['kestrel'],
  };
  const plan = trainingView(
    trainingPlan({
      route: ROUTE,
      record: {
        cohort: { ...COHORT, participants: 1, members: ['kestrel'], going: ['kestrel'] },
        outings: [outing],
      },
      today: '2026-05-04',
      tripDate: '2026-07-11',
      routes: [KNOWN],
      design: DESIGN,
      ...more,
    }),
    'metric',
  );
  return { plan, page: trainingPage('Lantern Top', plan) };
}

describe('trainingPage', () => {
  it('gives every step its date, what it is, why and where, and a cell to tick', () => {
    const { plan, page } = pageOf();
    expect(plan.state).toBe('train');
    const { table } = sectionOf(page, 'Steps');
    expect(table?.columns).toHaveLength(5);
    expect(table?.rows.map(([date]) => date)).toEqual(plan.steps.map(({ date }) => date));
    for (const [i, row] of (table?.rows ?? []).entries()) {
      expect(row).toHaveLength(5);
      expect(row.slice(0, 4).every((cell) => cell !== '')).toBe(true);
      expect(row[4]).toBe('');
      expect(row[3]).toContain(plan.steps[i]?.stair.text);
    }
    expect(pageText(page)).toContain('Bell Ridge');
  });

  it('is read by leaders, names the route and has the three days', () => {
    const { plan, page } = pageOf();
    expect(page).toMatchObject({ title: 'Training for Lantern Top', reader: 'leaders' });
    const text = sectionText(sectionOf(page, 'Three days'));
    for (const milestone of plan.milestones) expect(text).toContain(milestone.text);
    expect(sectionText(sectionOf(page, 'In short'))).toContain(plan.text);
  });

  it('holds no label of a member', () => {
    expect(pageText(pageOf().page)).not.toContain('kestrel');
  });

  it('has no table of steps where nothing is needed, too late or not known', () => {
    const ready = pageOf({ today: '2026-07-04' }, 14000, 1200, '2026-07-03');
    expect(ready.plan.state).toBe('ready');
    const past = pageOf({ tripDate: '2026-05-01' });
    expect(past.plan.state).toBe('past');
    const unmeasured: Route = { ...ROUTE, measures: { ...ROUTE.measures, gainM: null } };
    const unknown = pageOf({ route: unmeasured });
    expect(unknown.plan.state).toBe('unknown');
    for (const { page } of [ready, past, unknown]) {
      expect(page.sections.map(({ heading }) => heading)).not.toContain('Steps');
      expect(pageText(page)).not.toMatch(/null|undefined|NaN/);
    }
  });

  it('says what training does not change', () => {
    const shut = mountain({
      lengthUpM: 5000,
      gainM: 800,
      baseM: 500,
      attributes: {
        rockClass: '2',
        treelineM: 1800,
        surface: 'trail',
        season: { from: '08-01', to: '09-01' },
      },
    });
    expect(sectionText(sectionOf(pageOf({ route: shut }).page, 'What training'))).toContain('out of season');
    expect(pageOf().page.sections.map(({ heading }) => heading)).not.toContain(
      'What training does not change',
    );
  });
});
