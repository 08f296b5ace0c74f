import { describe, expect, it } from 'vitest';
import { listOutings } from '../../src/app/days.ts';
import { getCohort } from '../../src/app/groups.ts';
import { getRoute, patchRoute } from '../../src/app/routes.ts';
import type { App } from '../../src/http/deps.ts';
import { type Answer, addCohort, addRoute, ask, eachService, sendJson, wayUp } from '../http/service.ts';

const HTML = { accept: 'text/html' };
const FORM_TYPE = 'application/x-www-form-urlencoded';
const DATE = '2026-07-11';

const get = (app: App, url: string, more: Record<string, string> = {}): Promise<Answer> =>
  ask(app, { url, headers: { ...HTML, ...more } });

const send = (
  app: App,
  url: string,
  fields: Record<string, string> | [string, string][],
  more: Record<string, string> = {},
): Promise<Answer> =>
  ask(app, {
    method: 'POST',
    url,
    headers: { ...HTML, 'content-type': FORM_TYPE, 'sec-fetch-site': 'same-origin', ...more },
    payload: new URLSearchParams(fields).toString(),
  });

const OUTING = { date: '2026-07-01', distanceM: 9000, gainM: 700, movingMin: 240, rockClass: '1' };

describe('the pages', () => {
  const service = eachService();

  /** A store with one of everything, and the addresses of all its pages. */
  async function filled(name = 'South Way') {
    const { id: routeId } = await addRoute(service.app, wayUp(name));
    const { id } = await addCohort(service.app, { name });
    await sendJson(service.app, `/v1/cohorts/${id}/outings`, OUTING);
    const paths = [
      '/',
      '/cohorts/new',
      `/cohorts/${id}?date=${DATE}`,
      `/cohorts/${id}/shortlist?date=${DATE}`,
      `/cohorts/${id}/edit`,
      `/cohorts/${id}/outings`,
      `/cohorts/${id}/outings/new`,
      `/cohorts/${id}/routes/${routeId}?date=${DATE}`,
      `/cohorts/${id}/routes/${routeId}/plan?date=${DATE}`,
      `/cohorts/${id}/training?date=${DATE}&route=${routeId}`,
      '/kept',
      '/routes',
      '/routes/map',
      `/routes/${routeId}`,
      `/routes/${routeId}/edit`,
      '/season',
      `/season/board?date1=${DATE}&cohort=${id}&vehicle1=${encodeURIComponent(name)}&seats1=12&name=x`,
    ];
    return { id, routeId, paths };
  }

  it('are HTML that takes style and script from files of this service alone', async () => {
    const { paths } = await filled();
    for (const path of paths) {
      const { status, headers, text } = await get(service.app, path);
      expect([path, status]).toEqual([path, 200]);
      expect(headers['content-type']).toBe('text/html; charset=utf-8');
      const policy = String(headers['content-security-policy']);
      expect(policy).toContain("script-src 'self';");
      expect(policy).toContain("style-src 'self';");
      expect(policy).not.toContain('unsafe');
      expect(text).not.toMatch(
        /<style|\sstyle=|\son[a-z]+=|javascript:|<script(?! type="module" src="\/assets\/)/,
      );
    }
  });

  it('serve their files under names that change with the content, to be kept for good', async () => {
    const { text } = await get(service.app, '/routes');
    const files = [...text.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g)].map(([, path = '']) => path);
    expect(files.map((path) => path.replace(/-[0-9a-f]{12}\./, '.'))).toEqual([
      '/assets/site.css',
      '/assets/upload.js',
    ]);
    for (const path of files) {
      const { status, headers } = await ask(service.app, { url: path });
      expect([status, headers['cache-control']]).toEqual([200, 'public, max-age=31536000, immutable']);
    }
    expect((await ask(service.app, { url: '/assets/site-000000000000.css' })).status).toBe(404);
  });

  it('escape whatever people have named things', async () => {
    const hostile = `"><img src=x onerror=alert(1)> & </h1><script>x()</script>`;
    const inXml = hostile.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
    const { paths } = await filled(inXml);
    await addCohort(service.app, { name: hostile, home: { lat: 46, lon: -30, name: hostile } });
    for (const path of paths) {
      const { text } = await get(service.app, path);
      expect(text).not.toContain('<img');
      expect(text).not.toContain('<script>x');
    }
    expect((await get(service.app, '/')).text).toContain('&lt;img src=x');
    const asked = await get(
      service.app,
      `${paths[2]}&q=${encodeURIComponent('"><img src=x>')}&sort=%3Cimg%3E`,
    );
    expect(asked.text).not.toContain('<img');
  });

  it('stay under 100 kB with style and script, full of routes, or forty cohorts on them', async () => {
    const { id } = await addCohort(service.app);
    await sendJson(service.app, `/v1/cohorts/${id}/outings`, OUTING);
    for (let i = 0; i < 55; i += 1) await addRoute(service.app, wayUp(`South Way ${i}`, i * 0.00002));
    const sizeOf = async (path: string) => {
      const { text } = await get(service.app, path);
      const files = [...text.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g)].map(([, file = '']) => file);
      const sizes = await Promise.all(
        files.map(async (url) => (await ask(service.app, { url })).text.length),
      );
      // Drawings are not counted.
      return text.replace(/<svg.*?<\/svg>/gs, '').length + sizes.reduce((a, b) => a + b, 0);
    };
    const shortlist = await get(service.app, `/cohorts/${id}?date=${DATE}`);
    expect(shortlist.text.match(/<tbody/g)).toHaveLength(30);
    expect(shortlist.text).toContain('page 1 of 2');
    expect((await get(service.app, `/cohorts/${id}?date=${DATE}&page=2`)).text.match(/<tbody/g)).toHaveLength(
      25,
    );
    expect(await sizeOf(`/cohorts/${id}?date=${DATE}`)).toBeLessThan(100_000);
    expect(await sizeOf('/routes')).toBeLessThan(100_000);
    const season = new URLSearchParams({ from: DATE, to: '2026-07-22', cohort: id });
    for (let i = 0; i < 39; i += 1) {
      const more = await addCohort(service.app, { name: `Another ${i}` });
      await sendJson(service.app, `/v1/cohorts/${more.id}/outings`, OUTING);
      season.append('cohort', more.id);
    }
    expect(await sizeOf('/season')).toBeLessThan(100_000);
    const board = await get(service.app, `/season/board?${season}`);
    expect(board.text.match(/class="party|class="box notice without/g)).toHaveLength(40);
    expect(await sizeOf(`/season/board?${season}`)).toBeLessThan(100_000);
  });

  it('say what is wrong in words, to those who asked for a page', async () => {
    const nothing = await get(service.app, '/nowhere');
    expect([nothing.status, nothing.headers['content-type']]).toEqual([404, 'text/html; charset=utf-8']);
    expect(nothing.text).toContain('There is nothing at this address.');
    const gone = await get(service.app, `/cohorts/co_${'a'.repeat(22)}`);
    expect([gone.status, gone.text.includes('There is no such cohort.')]).toEqual([404, true]);
    const program = await ask(service.app, { url: '/nowhere' });
    expect(program.json.code).toBe('not-found');
    // A program's address answers programs, whoever asks.
    expect((await get(service.app, '/v1/nowhere')).json.code).toBe('not-found');
  });

  it('say beside the date what is wrong with it, and show the usual one', async () => {
    const { id } = await filled();
    const { status, text } = await get(service.app, `/cohorts/${id}?date=2026-02-30`);
    expect(status).toBe(400);
    expect(text).toMatch(/id="date-fault">[^<]*2026-02-30/);
    expect(text).toContain('aria-invalid="true"');
  });

  it('name nobody who limits what', async () => {
    const { paths } = await filled();
    for (const path of paths.filter((one) => /shortlist|date=/.test(one))) {
      const { text } = await get(service.app, path);
      // Labels stand in the form that asks who would stay behind, and nowhere else.
      const form = /<fieldset class="bare"><legend>Without.*?<\/fieldset>/s;
      expect(text.replace(form, '')).not.toContain('zq7x');
    }
  });

  it('keep the units that were chosen, and lead back to where one was, nowhere else', async () => {
    const answer = await send(service.app, '/units', { units: 'us', back: '/routes?after=x' });
    expect([answer.status, answer.headers.location]).toEqual([303, '/routes?after=x']);
    const cookie = String(answer.headers['set-cookie']);
    expect(cookie).toContain('SameSite=Lax');
    for (const back of ['//evil.example', 'https://evil.example', '/\\evil.example', 'evil', '/a\r\nx: y']) {
      expect((await send(service.app, '/units', { units: 'us', back })).headers.location).toBe('/');
    }
    await filled();
    const { text } = await get(service.app, '/routes', { cookie: cookie.split(';')[0] ?? '' });
    expect(text).toMatch(/\d\.\d\smi/);
    expect(text).not.toMatch(/\d\.\d\skm/);
  });
});

describe('what another site sends through the reader’s browser', () => {
  const service = eachService();

  it.each([
    { 'sec-fetch-site': 'cross-site' },
    { 'sec-fetch-site': 'same-site' },
    { 'sec-fetch-site': '', origin: 'https://evil.example' },
    { origin: 'null' },
  ])('is refused: %o', async (headers) => {
    const more: Record<string, string> = { ...headers };
    for (const [url, type] of [
      ['/units', FORM_TYPE],
      ['/v1/routes', 'application/gpx+xml'],
    ] as const) {
      const answer = await ask(service.app, {
        method: 'POST',
        url,
        headers: { 'content-type': type, ...more },
        payload: 'units=us',
      });
      expect([answer.status, answer.json.code]).toEqual([403, 'cross-site']);
    }
  });

  it('is taken from our own pages, and from programs, which say neither', async () => {
    const own = { 'sec-fetch-site': 'same-origin', origin: 'null' };
    expect((await send(service.app, '/units', { units: 'us' }, own)).status).toBe(303);
    const old = { host: '127.0.0.1:8787', origin: 'http://127.0.0.1:8787' };
    for (const headers of [old, {}]) {
      const answer = await ask(service.app, {
        method: 'POST',
        url: '/units',
        headers: { ...HTML, 'content-type': FORM_TYPE, ...headers },
        payload: 'units=us',
      });
      expect(answer.status).toBe(303);
    }
  });
});

describe('the forms', () => {
  const service = eachService();

  const multipart = (files: readonly (readonly [name: string, content: string])[]) => {
    const boundary = 'border-of-the-test';
    const parts = files.map(
      ([name, content]) =>
        `--${boundary}\r\nContent-Disposition: form-data; name="files"; filename="${name}"\r\n\r\n${content}\r\n`,
    );
    return {
      headers: { ...HTML, 'content-type': `multipart/form-data; boundary=${boundary}` },
      payload: `${parts.join('')}--${boundary}--\r\n`,
    };
  };

  it('store each file by itself, and say for each what became of it', async () => {
    const answer = await ask(service.app, {
      method: 'POST',
      url: '/routes',
      ...multipart([
        ['a.gpx', wayUp('Way A')],
        ['broken.gpx', '<gpx><trk>'],
        ['b.gpx', wayUp('Way B', 0.001)],
        ['b.route.json', '{"rockClass":"2"}'],
        ['c.gpx', wayUp('Way C', 0.002)],
        ['c.route.json', '{\n  "surface": "trail",\n  "rockClass": "none"\n}'],
        ['alone.route.json', '{}'],
      ]),
    });
    expect(answer.status).toBe(200);
    const results = [...answer.text.matchAll(/<li class="(done|todo|refused)"><strong>([^<]+)/g)];
    expect(results.map(([, what, name]) => `${name} ${what}`)).toEqual([
      'broken.gpx refused',
      'c.route.json refused',
      'alone.route.json refused',
      'a.gpx todo',
      'b.gpx todo',
    ]);
    expect(answer.text).toContain('3 not stored: mend and send them again.');
    expect(answer.text).toContain('2 stored with something to state or check.');
    expect(answer.text).toMatch(/c\.route\.json<\/strong>.*\(line 3\).*c\.gpx is not stored either/);
    const list = await ask(service.app, { url: '/v1/routes' });
    expect(list.json.routes.map(({ name }) => name)).toEqual(['Way A', 'Way B']);
    const again = await ask(service.app, {
      method: 'POST',
      url: '/routes',
      ...multipart([['a.gpx', wayUp('Way A')]]),
    });
    expect(again.text).toContain('was here already');
    const changed = await ask(service.app, {
      method: 'POST',
      url: '/routes',
      ...multipart([
        ['b.gpx', wayUp('Way B', 0.001)],
        ['b.route.json', '{"rockClass":"2+","groupSizeLimit":12}'],
      ]),
    });
    expect(changed.text).toContain('was here already and is changed');
    expect(changed.text).toContain(
      'rock class: 2+, before 2; largest party: 12, leaders counted, before not stated',
    );
    expect((await ask(service.app, { url: '/v1/routes' })).json.routes).toHaveLength(2);
    const none = await ask(service.app, { method: 'POST', url: '/routes', ...multipart([['x.gpx', 'no']]) });
    expect(none.status).toBe(422);
  });

  it('change a route’s attributes, keep what they do not show, and lose nobody else’s change', async () => {
    const { id } = await addRoute(service.app);
    const water = [{ name: 'spring', lat: 46.09, lon: -30.2 }];
    await patchRoute(service.context, id, 1, { waterPoints: water, treelineM: 1950 });
    const fields = {
      revision: '2',
      rockClass: '2+',
      treeline: '1950',
      trailhead: 'Mill',
      roadClearance: 'high',
      road: '12.5',
      seasonFrom: '06-15',
      seasonTo: '10-01',
      closure1From: '07-01',
      closure1To: '07-10',
      closure1Reason: 'nesting',
      pickUp: 'the ferry at 16:00',
      permitWho: 'commoners',
      groupSizeLimit: '12',
    };
    const answer = await send(service.app, `/routes/${id}/edit`, fields);
    expect([answer.status, answer.headers.location]).toEqual([303, `/routes/${id}?done=stored`]);
    expect((await getRoute(service.context, id)).route.attributes).toEqual({
      rockClass: '2+',
      treelineM: 1950,
      trailhead: { name: 'Mill', roadClearance: 'high', roadKm: 12.5 },
      pickUp: 'the ferry at 16:00',
      groupSizeLimit: 12,
      permit: { who: 'commoners' },
      season: { from: '06-15', to: '10-01' },
      closures: [{ from: '07-01', to: '07-10', reason: 'nesting' }],
      waterPoints: water,
    });
    expect((await get(service.app, `/routes/${id}`)).text).toMatch(
      /pick-up at the end<\/th><td>the ferry at 16:00/,
    );
    // Somebody else has changed it since the form was opened.
    const stale = await send(service.app, `/routes/${id}/edit`, { ...fields, trailhead: 'Ford', road: '' });
    expect(stale.status).toBe(412);
    // What was typed is still there, what differs is said, and sending it again is on purpose.
    expect(stale.text).toContain('value="Ford"');
    expect(stale.text).toContain('name="revision" value="3"');
    expect([...stale.text.matchAll(/id="(\w+)-now">([^<]*)/g)].map(([, field, now]) => [field, now])).toEqual(
      [
        ['trailhead', 'stored meanwhile: Mill'],
        ['road', 'stored meanwhile: 12.5'],
      ],
    );
    expect((await getRoute(service.context, id)).revision).toBe(3);
    const wrong = await send(service.app, `/routes/${id}/edit`, {
      ...fields,
      revision: '3',
      treeline: 'high',
    });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('value="high"');
    expect(wrong.text).toContain('id="treeline-fault"');
  });

  it('leave a height that was not touched as it is, whatever the units', async () => {
    const { id } = await addRoute(service.app);
    await patchRoute(service.context, id, 1, { treelineM: 1950 });
    const us = { cookie: 'krummholz-units=us' };
    const { text } = await get(service.app, `/routes/${id}/edit`, us);
    const [, shown = ''] = /id="treeline"[^>]*value="(\d+)"/.exec(text) ?? [];
    expect(shown).toBe('6398');
    await send(service.app, `/routes/${id}/edit`, { revision: '2', treeline: shown, notes: 'x' }, us);
    expect((await getRoute(service.context, id)).route.attributes.treelineM).toBe(1950);
    await send(service.app, `/routes/${id}/edit`, { revision: '3', treeline: '6500' }, us);
    expect((await getRoute(service.context, id)).route.attributes.treelineM).toBeCloseTo(1981.2, 6);
  });

  it('lead a coordinator through the routes of which something is to be stated, and say what was done', async () => {
    const { id } = await addRoute(service.app, wayUp('Way A'));
    const other = await addRoute(service.app, wayUp('Way B &lt;b>', 0.001));
    const page = async (url: string) => (await ask(service.app, { url, headers: HTML })).text;
    const home = await page('/');
    expect(home).toContain('something is still to be stated');
    expect(home).toContain(`/routes/${id}/edit`);
    expect(home).not.toContain(': done.');
    expect(await page('/routes')).toContain('2 of 2 have something to state');
    expect(await page(`/routes/${id}/edit`)).toContain('Store, then state of Way B &lt;b>');

    const store = (route: string, revision: number, then: string) =>
      ask(service.app, {
        method: 'POST',
        url: `/routes/${route}/edit`,
        headers: { ...HTML, 'content-type': FORM_TYPE },
        payload: `revision=${revision}&rockClass=1&treeline=1500&seasonFrom=06-15&seasonTo=10-01&groupSizeLimit=12${then}`,
      });
    const next = await store(id, 1, '&then=next');
    expect(next.headers.location).toBe(`/routes/${other.id}/edit?done=storedNext`);
    expect(await page(String(next.headers.location))).toContain('The route before this one is stored.');
    const only = await page('/routes?show=toState');
    expect(only).toContain('Way B &lt;b>');
    expect(only).not.toContain('Way A');
    const stated = await page(`/routes/${id}`);
    for (const text of ['What is stated', '15 June to 1 October', '12, leaders counted', '1,500']) {
      expect(stated).toContain(text);
    }
    const last = await store(other.id, 1, '&then=next');
    expect(last.headers.location).toBe('/routes?done=allStated');
    expect(await page('/routes?done=allStated')).toContain('Nothing is left to state of any route.');
    expect(await page('/')).toContain(': done.');
    // The address names a sentence; it never brings one.
    expect(await page('/routes?done=%3Cb%3Eowned')).not.toContain('<b>owned');
    expect(await page('/routes?done=toString')).not.toContain('role="status" tabindex');
  });

  it('map the most routes though one lies far off, and name that one', async () => {
    await addRoute(service.app, wayUp('Way A'));
    const { id } = await addRoute(service.app, wayUp('Far Way').replaceAll(/lat="46/g, 'lat="36'));
    await addRoute(service.app, wayUp('Way B', 0.001));
    const { text } = await get(service.app, '/routes/map');
    expect(text).toContain('<svg');
    expect(text).toContain('Map of 2 routes');
    expect(text).toMatch(new RegExp(`Not on this map:.*href="/routes/${id}">Far Way`));
  });

  it('make, change and erase a cohort', async () => {
    const made = await send(service.app, '/cohorts/new', {
      name: 'Skerry Seniors',
      participants: '6',
      members: 'm1, m2  m3',
      seats1: '9',
      clearance1: 'high',
      homeLat: '46.123',
      homeLon: '-30.456',
      earliestStart: '04:00',
      headlamps: 'false',
    });
    const [, id = ''] =
      /^\/cohorts\/(co_[^/]+)\/outings\/new\?done=cohortMade$/.exec(String(made.headers.location)) ?? [];
    const { cohort, revision } = await getCohort(service.context, id);
    expect(cohort).toMatchObject({
      members: ['m1', 'm2', 'm3'],
      vehicles: [{ seats: 9, clearance: 'high' }],
      home: { lat: 46.12, lon: -30.46 },
      headlamps: false,
    });
    const change: [string, string][] = [
      ['revision', String(revision)],
      ['name', 'Skerry Seniors'],
      ['participants', '6'],
      ['members', 'm1 m2'],
      ['going', 'm1'],
      ['going', 'm3'],
    ];
    expect((await send(service.app, `/cohorts/${id}/edit`, change)).status).toBe(303);
    expect((await getCohort(service.context, id)).cohort).toMatchObject({
      members: ['m1', 'm2'],
      going: ['m1'],
    });
    const wrong = await send(service.app, '/cohorts/new', { name: 'X', participants: 'six' });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toMatch(/id="participants-fault">This must be/);
    const stale = await send(service.app, `/cohorts/${id}/edit`, change);
    expect(stale.status).toBe(412);
    const differing = [...stale.text.matchAll(/id="(\w+)-now">/g)].map(([, field]) => field);
    // The label m3 is gone, and with it the tick.
    expect(differing).toEqual(['going']);
    const place = { name: 'X', participants: '6', homeName: 'Quay', clearance1: 'high' };
    expect((await send(service.app, '/cohorts/new', place)).text).toMatch(
      /id="\w+-fault">This is missing: it must be a number/,
    );
    expect((await send(service.app, `/cohorts/${id}/delete`, {})).headers.location).toBe(
      '/?done=cohortErased',
    );
    expect((await get(service.app, `/cohorts/${id}`)).status).toBe(404);
  });

  it('record a day by hand in miles, ask to confirm what looks wrong, and erase it', async () => {
    const { id } = await addCohort(service.app);
    const us = { cookie: 'krummholz-units=us' };
    const day = {
      date: '2026-07-01',
      distance: '6',
      gain: '2000',
      hours: '4',
      minutes: '30',
      nearMisses: 'a slip\nrain',
    };
    const stored = await send(service.app, `/cohorts/${id}/outings`, day, us);
    expect(stored.status).toBe(303);
    const [first] = await listOutings(service.context, id, { limit: 10, after: null });
    expect(first?.outing.distanceM).toBeCloseTo(9656.1, 0);
    expect(first?.outing.movingMin).toBe(270);
    expect(first?.outing.nearMisses).toEqual(['a slip', 'rain']);

    const odd = { ...day, date: '2026-07-02', hours: '0', minutes: '10' };
    const doubted = await send(service.app, `/cohorts/${id}/outings`, odd, us);
    expect(doubted.status).toBe(422);
    expect(doubted.text).toContain('or tick “These figures are right all the same”.');
    expect(doubted.text).not.toContain('&quot;confirmed&quot;');
    const confirmed = await send(service.app, `/cohorts/${id}/outings`, { ...odd, confirmed: 'true' }, us);
    expect(confirmed.status).toBe(303);
    const again = await send(service.app, `/cohorts/${id}/outings`, { ...odd, confirmed: 'true' }, us);
    const twice = await get(service.app, String(again.headers.location));
    expect(twice.text).toContain('if it is the same day, erase one');
    const once = await get(service.app, String(stored.headers.location));
    expect(once.text).not.toContain('erase one');
    const copy = /new=(.*)$/.exec(String(again.headers.location))?.[1];
    await send(service.app, `/cohorts/${id}/outings/${copy}/delete`, {});
    const erased = await send(service.app, `/cohorts/${id}/outings/${first?.id}/delete`, {});
    expect(erased.headers.location).toBe(`/cohorts/${id}/outings?done=dayErased`);
    expect(await listOutings(service.context, id, { limit: 10, after: null })).toHaveLength(1);
  });
});
