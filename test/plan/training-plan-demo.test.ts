import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readCohortFile, readRouteFiles } from '../../src/app/files.ts';
import { routesOf } from '../../src/app/measure.ts';
import { cohortRecordOf } from '../../src/app/recordings.ts';
import { DESIGN } from '../../src/design.ts';
import { addDays } from '../../src/earth/local-time.ts';
import { asWalked } from '../../src/plan/training/steps.ts';
import { trainingPlan } from '../../src/plan/training-plan.ts';
import { fitOf } from '../../src/rank/fit.ts';
import { type CohortRecord, readinessOf } from '../../src/rank/readiness.ts';
import type { Route } from '../../src/route/describe-route.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';

const COHORTS = ['cranny-juniors', 'marram-seniors', 'plover-adults'];
const TODAY = '2026-07-06';

let surface: Surface;
let routes: Route[];
let records: CohortRecord[];

beforeAll(async () => {
  surface = await openSurface(['data/demo/dem']);
  const ground = { surface, design: DESIGN };
  const files = await readRouteFiles(['data/demo/routes']);
  routes = (await Promise.all(files.map((file) => routesOf(file, ground)))).flat();
  records = await Promise.all(
    COHORTS.map(async (name) => {
      const { cohort, readTrack } = await readCohortFile(`data/demo/cohorts/${name}.json`);
      return cohortRecordOf(cohort, readTrack, ground);
    }),
  );
});
afterAll(() => surface.close());

describe('on the demo’s routes and cohorts', () => {
  it('every plan that leads to a date makes distance, climb and work fit on it', { timeout: 60_000 }, () => {
    const states = new Map<string, number>();
    let withPlaces = 0;
    for (const record of records) {
      for (const route of routes.filter((_, i) => i % 3 === 0)) {
        const tripDate = addDays(TODAY, 61);
        const plan = trainingPlan({
          route,
          record,
          today: TODAY,
          tripDate,
          routes,
          design: DESIGN,
        });
        states.set(plan.state, (states.get(plan.state) ?? 0) + 1);
        withPlaces += plan.steps.filter((step) => step.routes.length > 0 || step.repeats !== null).length;
        if (plan.leadsTo === null) continue;
        const outings = [...record.outings, ...plan.steps.map((step) => asWalked(step, record))];
        const trained = { ...record, outings };
        const readiness = readinessOf({ record: trained, date: plan.leadsTo, design: DESIGN });
        const fit = fitOf(route, { record: trained, date: plan.leadsTo, design: DESIGN }, readiness);
        const trainable = fit.judgements.filter(({ name }) => ['distance', 'gain', 'effort'].includes(name));
        expect(trainable.map(({ verdict }) => verdict)).toEqual(['fits', 'fits', 'fits']);
        expect(plan.verdictAfter).toBe(fit.verdict);
        for (const label of record.cohort.members ?? []) {
          expect(JSON.stringify({ ...plan, target: null })).not.toMatch(new RegExp(`\\b${label}\\b`));
        }
      }
    }
    expect([...states.keys()].sort()).toEqual(['notThisSeason', 'ready', 'train']);
    expect(withPlaces).toBeGreaterThan(0);
  });
});
