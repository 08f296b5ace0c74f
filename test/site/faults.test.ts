import { describe, expect, it } from 'vitest';
import { listOutings } from '../../src/app/days.ts';
import { listCohorts } from '../../src/app/groups.ts';
import { getRoute } from '../../src/app/routes.ts';
import { type Answer, addCohort, addRoute, ask, eachService, sendJson, wayUp } from '../http/service.ts';

const US = { cookie: 'krummholz-units=us' };
const EVERY = { limit: 10, after: null };

/** The texts beside the fields of a page, by the fields. */
const besideIn = ({ text }: Answer): Record<string, string> =>
  Object.fromEntries(
    [...text.matchAll(/id="([\w-]+)-fault">([^<]*)/g)].map(([, field = '', said = '']) => [field, said]),
  );

/** The fields that the note at the head of a page leads to. */
const linkedIn = ({ text }: Answer): string[] =>
  [...(/role="alert".*?<\/div>/s.exec(text)?.[0] ?? '').matchAll(/href="#([\w-]+)"/g)].map(
    ([, field = '']) => field,
  );

describe('a form with more than one fault', () => {
  const service = eachService();

  const send = (url: string, fields: Record<string, string>, more: Record<string, string> = {}) =>
    ask(service.app, {
      method: 'POST',
      url,
      headers: {
        accept: 'text/html',
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
        ...more,
      },
      payload: new URLSearchParams(fields).toString(),
    });

  const get = (url: string) => ask(service.app, { url, headers: { accept: 'text/html' } });

  /** Every fault stands beside its field, and the head of the page leads to each in the order of the page. */
  function expectFaults(answer: Answer, fields: readonly string[]): void {
    expect(linkedIn(answer)).toEqual(fields);
    expect(Object.keys(besideIn(answer)).sort()).toEqual([...fields].sort());
    expect(answer.text).toContain(`${fields.length} fields are to be corrected`);
    for (const field of fields) {
      const control = new RegExp(`<(?:input|select|textarea)[^>]*id="${field}"[^>]*>`).exec(answer.text)?.[0];
      expect(control).toContain('aria-invalid="true"');
      expect(control).toMatch(new RegExp(`aria-describedby="[^"]*\\b${field}-fault`));
    }
  }

  it('says all of a route at once, in the rows where they were written, and stores none of it', async () => {
    const { id } = await addRoute(service.app);
    const answer = await send(`/routes/${id}/edit`, {
      revision: '1',
      name: 'Another name',
      rockClass: 'steep',
      treeline: 'high',
      road: '-3',
      parkingSpaces: '2.5',
      groupSizeLimit: '0',
      seasonFrom: '06-15',
      closure2From: '2026-06-15',
      closure2To: '2026-06-01',
    });
    expect(answer.status).toBe(422);
    expectFaults(answer, [
      'rockClass',
      'treeline',
      'road',
      'parkingSpaces',
      'groupSizeLimit',
      'seasonTo',
      'closure2To',
    ]);
    const { route, revision } = await getRoute(service.context, id);
    expect([revision, route.attributes]).toEqual([1, {}]);
  });

  it.each([
    [{ closure1From: 'June', closure1To: 'July' }, ['closure1From', 'closure1To']],
    [{ closure1From: 'June', closure1To: '2026-07-01', rockClass: 'x' }, ['rockClass', 'closure1From']],
    [{ closure1From: '2026-07-01', closure2To: '07-10' }, ['closure1To', 'closure2From']],
  ])('finds no fault that is only of its own mending: %o', async (fields, faulty) => {
    const { id } = await addRoute(service.app);
    expectFaults(await send(`/routes/${id}/edit`, { revision: '1', ...fields }), faulty);
  });

  it('says all of a cohort, and makes none', async () => {
    const answer = await send('/cohorts/new', {
      name: '',
      participants: 'six',
      members: 'm1 m1',
      homeName: 'Quay',
      driveMin: 'long',
      seats2: '-1',
      comfortClass: 'easy',
      deadline: 'noon',
    });
    expect(answer.status).toBe(422);
    expectFaults(answer, [
      'name',
      'participants',
      'members',
      'comfortClass',
      'deadline',
      'homeLat',
      'homeLon',
      'driveMin',
      'seats2',
    ]);
    expect(await listCohorts(service.context, EVERY)).toEqual([]);
  });

  it('says all of a day walked, and opens what was folded over one', async () => {
    const { id } = await addCohort(service.app, { members: ['ann', 'bo2'] });
    const answer = await send(`/cohorts/${id}/outings`, {
      date: 'yesterday',
      distance: 'far',
      gain: '-5',
      hours: 'four',
      top: '99999',
      rockClass: 'x',
      turnedBecause: 'ann was tired',
    });
    expectFaults(answer, ['date', 'distance', 'gain', 'hours', 'top', 'rockClass', 'turnedBecause']);
    expect(answer.text).toMatch(/<details open>(?:(?!<\/details>).)*id="turnedBecause-fault"/s);
    const bare = await send(`/cohorts/${id}/outings`, {
      date: '2026-07-01',
      distance: '',
      gain: '',
      top: 'x',
    });
    expectFaults(bare, ['distance', 'gain', 'top']);
    expect(besideIn(bare).gain).toBe('This is missing: a day by hand has its length and its climb.');
    expect(await listOutings(service.context, id, EVERY)).toEqual([]);
  });

  it('says all of a season, cohorts and limits too', async () => {
    await addRoute(service.app, wayUp('South Way'));
    const { id } = await addCohort(service.app);
    await sendJson(service.app, `/v1/cohorts/${id}/outings`, {
      date: '2026-07-01',
      distanceM: 9000,
      gainM: 700,
    });
    const asked = new URLSearchParams({
      cohort: id,
      [`notOn-${id}`]: 'Friday',
      from: '2026-07-40',
      to: '2026-07-12',
      date2: 'soon',
      vehicle1: 'bus',
      seats2: '-1',
      place1: 'Mill',
      spaces3: 'x',
      on: '1',
    });
    const answer = await get(`/season/board?${asked}`);
    expect(answer.status).toBe(400);
    expectFaults(answer, [`notOn-${id}`, 'from', 'date2', 'seats1', 'seats2', 'place1', 'place3', 'spaces3']);
    const elsewhere = new URLSearchParams({
      cohort: id,
      date1: '2026-07-12',
      ...{ place1: 'Mill', parties1: '1', place2: 'Quay', parties2: '1' },
      ...{ limitAt3: 'who', place3: 'Harbour Office', parties3: '1', spaces4: 'x' },
    });
    const unknown = await get(`/season/board?${elsewhere}`);
    expectFaults(unknown, ['place1', 'place2', 'place3', 'place4', 'spaces4']);
    expect(besideIn(unknown).place2).toBe(
      'No route has the trailhead &quot;Quay&quot;. No route states one.',
    );
    const none = await get('/season/board?from=2026-07-12&date1=x');
    expect(linkedIn(none)).toEqual(['cohort', 'to', 'date1']);
    expect(besideIn(none)).toHaveProperty('cohort');
  });

  it('says bounds in the units of the field, and what was typed there', async () => {
    const { id } = await addRoute(service.app);
    const far = { revision: '1', treeline: '30000', road: '4000' };
    expect(besideIn(await send(`/routes/${id}/edit`, far, US))).toEqual({
      treeline: 'This must be a number from -1,410 to 19,685 ft; found 30000.',
      road: 'This must be a number from 0 to 3,106 mi; found 4000.',
    });
    expect(besideIn(await send(`/routes/${id}/edit`, { revision: '1', treeline: '30000' }))).toEqual({
      treeline: 'This must be a number from -430 to 6,000 m; found 30000.',
    });
    const { id: of } = await addCohort(service.app);
    const day = { date: '2026-07-01', distance: '301', gain: '900', hours: '200', top: '40000' };
    expect(besideIn(await send(`/cohorts/${of}/outings`, day, US))).toEqual({
      distance: 'This must be a number from 0 to 300 mi; found 301.',
      hours: 'This must be a number from 0 to 166 h; found 200.',
      top: 'This must be a number from -1,400 to 30,000 ft; found 40000.',
    });
  });

  it('shows a bounded number of them', async () => {
    await addRoute(service.app);
    await addCohort(service.app);
    const asked = new URLSearchParams(Array.from({ length: 60 }, (_, i) => [`seats${i + 1}`, '0']));
    expect(linkedIn(await get(`/season/board?${asked}`))).toHaveLength(20);
  });
});
