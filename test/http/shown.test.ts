import { describe, expect, it } from 'vitest';
import { addCohort, addRoute, ask, eachService, sendJson } from './service.ts';

const DAY = { date: '2026-06-21', distanceM: 9000, gainM: 500, movingMin: 200, rockClass: '1' };

describe('what a cohort has shown', () => {
  const service = eachService();

  it('tells leaders who would raise it, and the shortlist and the fit never', async () => {
    const { app } = service;
    const { id } = await addCohort(app, { members: ['fox7', 'owl3'], going: ['fox7', 'owl3'] });
    await sendJson(app, `/v1/cohorts/${id}/outings`, { ...DAY, members: ['fox7'] });
    const shown = await ask(app, { url: `/v1/cohorts/${id}/shown?date=2026-07-11` });
    expect(shown.status).toBe(200);
    const view = JSON.parse(shown.text);
    expect(view.limits).toContainEqual({
      quantity: 'distanceM',
      labels: ['owl3'],
      text: 'owl3 has no long day yet',
    });
    expect(view.distanceM).toBeNull();
    const { id: routeId } = await addRoute(app);
    for (const url of [
      `/v1/cohorts/${id}/shortlist?date=2026-07-11`,
      `/v1/cohorts/${id}/routes/${routeId}/fit?date=2026-07-11`,
    ]) {
      const answer = await ask(app, { url });
      expect(answer.status).toBe(200);
      expect(answer.text).not.toMatch(/fox7|owl3/);
    }
  });

  it('refuses an outing that looks wrong until it is confirmed', async () => {
    const { app } = service;
    const { id } = await addCohort(app, { members: null, going: null });
    const slip = { ...DAY, movingMin: 4 };
    const refused = await sendJson(app, `/v1/cohorts/${id}/outings`, slip);
    expect(refused.status).toBe(422);
    expect(refused.json.code).toBe('outing-implausible');
    expect(refused.json.detail).toContain('hours');
    const kept = await sendJson(app, `/v1/cohorts/${id}/outings`, { ...slip, confirmed: true });
    expect(kept.status).toBe(201);
    expect(kept.text).toContain('outing-implausible');
  });

  it('refuses a day that does not exist', async () => {
    const { app } = service;
    const { id } = await addCohort(app);
    expect((await ask(app, { url: `/v1/cohorts/${id}/shown?date=2026-02-30` })).status).toBe(400);
  });
});
