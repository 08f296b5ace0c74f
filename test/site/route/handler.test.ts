import { describe, expect, it } from 'vitest';
import { addCohort, addRoute, ask, eachService, sendJson } from '../../http/service.ts';

const HTML = { accept: 'text/html' };
const DATE = '2026-07-11';
const OUTING = {
  date: '2026-07-01',
  distanceM: 9000,
  gainM: 700,
  movingMin: 240,
  rockClass: '1',
  members: ['m1', 'm2'],
};

describe('the pages of a route', () => {
  const service = eachService();
  const get = (url: string, headers: Record<string, string> = HTML) => ask(service.app, { url, headers });

  const shadeOf = (html: string): string => /href="(\/routes\/[^"]+\.png)"/.exec(html)?.[1] ?? '';

  it('take the shaded ground from an address of its own that is kept for good and changes with the route', async () => {
    const { id, etag } = await addRoute(service.app);
    const before = shadeOf((await get(`/routes/${id}`)).text);
    const png = await get(before, { accept: 'image/png' });
    expect(png.status).toBe(200);
    expect(png.headers['content-type']).toBe('image/png');
    expect(png.headers['cache-control']).toBe('private, max-age=31536000, immutable');
    const again = await get(before, { accept: 'image/png', 'if-none-match': String(png.headers.etag) });
    expect([again.status, again.text]).toEqual([304, '']);

    await ask(service.app, {
      method: 'PATCH',
      url: `/v1/routes/${id}`,
      headers: { 'content-type': 'application/merge-patch+json', 'if-match': etag },
      payload: JSON.stringify({ treelineM: 1700 }),
    });
    const after = await get(`/routes/${id}`);
    expect(after.text).toContain('Treeline, 1,700');
    expect(shadeOf(after.text)).not.toBe(before);
    const old = await get(before, { accept: 'image/png' });
    expect([old.status, old.headers['cache-control']]).toEqual([200, 'private, no-cache']);
  });

  it('say that treeline is not known, and stipple nothing then', async () => {
    const { id } = await addRoute(service.app);
    const { text } = await get(`/routes/${id}`);
    expect(text).toContain('Treeline is not known: nothing is stippled');
    expect(text).toMatch(/<path class="above" d(="")? /);
  });

  it('lead from a route to a cohort that is named, and are not found for what is not there', async () => {
    const { id } = await addRoute(service.app);
    const { id: cohort } = await addCohort(service.app);
    const led = await get(`/routes/${id}?cohort=${cohort}&date=${DATE}`);
    expect([led.status, led.headers.location]).toEqual([303, `/cohorts/${cohort}/routes/${id}?date=${DATE}`]);
    const bad = await get(`/routes/${id}?cohort=${cohort}&date=%0d%0ax`);
    expect(bad.status).toBe(400);
    expect((await get('/routes/rt_AAAAAAAAAAAAAAAAAAAAAA')).status).toBe(404);
    expect((await get('/routes/map/shade/x.png', { accept: 'image/png' })).status).toBe(200);
  });

  it('say what is wrong with a start or a spare date, and plan without it', async () => {
    const { id } = await addRoute(service.app);
    const { id: cohort } = await addCohort(service.app);
    await sendJson(service.app, `/v1/cohorts/${cohort}/outings`, OUTING);
    const { status, text } = await get(`/cohorts/${cohort}/routes/${id}/plan?date=${DATE}&start=dawn`);
    expect(status).toBe(400);
    expect(text).toContain('is no time of day');
    const sheets = await get(`/cohorts/${cohort}/routes/${id}/plan/sheets?date=${DATE}`, { accept: '*/*' });
    expect(sheets.headers['content-type']).toContain('text/html');
    expect(sheets.text).not.toMatch(/\bm1\b/);
  });

  it('say for a cohort what is to be checked before it is chosen, and the day of the week', async () => {
    const { id } = await addRoute(service.app);
    const { id: cohort } = await addCohort(service.app);
    await sendJson(service.app, `/v1/cohorts/${cohort}/outings`, OUTING);
    const { text } = await get(`/cohorts/${cohort}/routes/${id}?date=${DATE}`);
    const [, box = ''] = /To check before it is chosen([\s\S]*?)<\/div>/.exec(text) ?? [];
    const { text: list } = await get(`/cohorts/${cohort}?date=${DATE}`);
    expect(box).toContain('season not stated');
    expect(list).toContain('season not stated');
    expect(text).toContain('Saturday');
    expect(list).toContain('Saturday');
  });

  it('say of a deadline later than the usual one that storms keep their own time', async () => {
    await addRoute(service.app);
    const { id: cohort } = await addCohort(service.app);
    await sendJson(service.app, `/v1/cohorts/${cohort}/outings`, OUTING);
    const asked = (deadline: string) => get(`/cohorts/${cohort}?date=${DATE}&deadline=${deadline}`);
    const { text: later } = await asked('14:00');
    expect(later).toMatch(/deadline of 14:00 is .* later than the usual one\. Storms keep their own time/);
    expect(later).toContain('set in place of the usual');
    expect((await asked('09:00')).text).not.toContain('Storms keep their own time');
  });

  it('name labels on the training page alone, for leaders and never on paper', async () => {
    const { id } = await addRoute(service.app);
    const { id: cohort } = await addCohort(service.app);
    await sendJson(service.app, `/v1/cohorts/${cohort}/outings`, OUTING);
    const { text } = await get(`/cohorts/${cohort}/training?date=${DATE}&route=${id}`);
    const [printed = '', leaders = ''] = text.split('<details class="screen">');
    expect(leaders).toContain('zq7x has no long day yet');
    expect(printed).not.toContain('zq7x');
    for (const path of [`/routes/${id}`, `/cohorts/${cohort}/routes/${id}?date=${DATE}`]) {
      expect((await get(path)).text).not.toContain('zq7x');
    }
  });
});
