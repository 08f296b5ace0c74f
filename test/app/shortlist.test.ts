import { describe, expect, it } from 'vitest';
import { addCohort } from '../../src/app/groups.ts';
import { addRoutes } from '../../src/app/routes.ts';
import { fitOfRoute, shortlist } from '../../src/app/shortlist.ts';
import { COHORT, wayUp } from '../http/service.ts';
import { eachContext, oneRoute, sentRoute } from '../support/each-context.ts';

const at = eachContext();
const HAND = { date: '2026-06-20', distanceM: 9200, gainM: 610, movingMin: 240 };

describe('a shortlist of the store', () => {
  const QUERY = { units: 'metric', limit: 100, verdicts: null, afterRank: 0, changes: null } as const;

  it('ranks every route, and keeps one outside the tiles as incomplete', async () => {
    const attributes = { rockClass: '1', treelineM: 2500 };
    await addRoutes(at.context, [{ ...sentRoute(), attributes }]);
    await addRoutes(at.context, [{ ...sentRoute(wayUp().replaceAll('-30.2', '-29.2')), attributes }]);
    const outing = { date: '2026-07-04', distanceM: 15000, gainM: 1200, movingMin: 400, rockClass: '1' };
    const { id } = await addCohort(at.context, { ...COHORT, members: null, outings: [outing] });
    const { fits } = await shortlist(at.context, { ...QUERY, cohortId: id, date: '2026-07-11' });
    expect(fits.map(({ fit }) => fit.rank)).toEqual([1, 2]);
    expect(fits[1]?.fit).toMatchObject({ verdict: 'incomplete', timeline: null });
    expect(fits[0]?.fit.verdict).toBe('fits');
  });

  it('judges one route as the shortlist does', async () => {
    const { id: routeId } = await oneRoute(at.context);
    const { id } = await addCohort(at.context, { ...COHORT, outings: [HAND] });
    const { fits } = await shortlist(at.context, { ...QUERY, cohortId: id, date: '2026-07-11' });
    const { fit } = await fitOfRoute(at.context, {
      cohortId: id,
      routeId,
      date: '2026-07-11',
    });
    const [first] = fits;
    expect({ ...fit, rank: 1, certainty: first?.fit.certainty }).toEqual(first?.fit);
    expect([fit.rank, fit.certainty]).toEqual([null, null]);
  });

  it('ranks for a cohort whose outings are as odd as the schema lets them be', async () => {
    await oneRoute(at.context);
    const odd = [
      { distanceM: 0, gainM: 0, movingMin: 30 },
      { distanceM: 0, gainM: 0, movingMin: 0 },
      { distanceM: 1e-160, gainM: 0, movingMin: 60 },
      { distanceM: 1, gainM: 30_000, movingMin: 1 },
      { distanceM: 500_000, gainM: 0, movingMin: 10_000 },
      { distanceM: 5e-324, gainM: 5e-324, movingMin: 5e-324 },
    ].map((outing) => ({ ...outing, date: '2026-06-20', confirmed: true }));
    const { id } = await addCohort(at.context, { ...COHORT, outings: odd });
    const { fits } = await shortlist(at.context, { ...QUERY, cohortId: id, date: '2026-07-11' });
    expect(fits).toHaveLength(1);
    expect(JSON.stringify(fits)).not.toMatch(/NaN|Infinity/);
  });

  it.each(['9999-12-31', '0000-01-01', '0001-01-01'])(
    'refuses the edge of the calendar, %s',
    async (date) => {
      const { id } = await addCohort(at.context, COHORT);
      await expect(shortlist(at.context, { ...QUERY, cohortId: id, date })).rejects.toMatchObject({
        code: 'bad-date',
      });
    },
  );

  it('refuses a day that does not exist', async () => {
    const { id } = await addCohort(at.context, COHORT);
    await expect(shortlist(at.context, { ...QUERY, cohortId: id, date: '2026-02-30' })).rejects.toMatchObject(
      {
        code: 'bad-date',
      },
    );
  });
});
