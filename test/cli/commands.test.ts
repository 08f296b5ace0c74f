import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CRITERION_NAMES } from '../../src/rank/criteria/index.ts';
import { tempFolder } from '../support/temp-folder.ts';
import { krummholz } from '../support/terminal.ts';

const DEM = 'data/demo/dem';
const ROUTES = 'data/demo/routes';
const ROUTE = `${ROUTES}/two-knolls-round.gpx`;
const cohort = (name: string) => `data/demo/cohorts/${name}.json`;
const DATE = ['--date', '2026-07-11'];
const folder = tempFolder();

function file(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

const rank = (name: string, ...more: string[]) =>
  krummholz('rank', '--cohort', cohort(name), '--routes', ROUTES, '--dem', DEM, ...DATE, ...more);

describe('krummholz measure', () => {
  it('prints the measures of a route for people', async () => {
    const { status, out, err } = await krummholz('measure', ROUTE, '--dem', DEM);
    expect({ status, err }).toEqual({ status: 0, err: '' });
    expect(out).toContain('Two Knolls Round');
    expect(out).toContain('1,950 m (stated for the route)');
  });

  it('prints JSON of the contract’s form for programs', async () => {
    const { out } = await krummholz('measure', ROUTE, '--dem', DEM, '--format', 'json');
    const [route] = JSON.parse(out);
    expect(Object.keys(route)).toEqual(['name', 'measures', 'sources', 'profile', 'notes']);
    expect(route.measures).toMatchObject({
      shape: 'loop',
      treelineM: 1950,
      treelineSource: 'route',
      demCoverage: 1,
    });
    expect(route.measures.gainM.low).toBeLessThan(route.measures.gainM.value);
    expect(route.profile[0]).toHaveLength(2);
  });

  it('speaks US units when asked', async () => {
    expect((await krummholz('measure', ROUTE, '--dem', DEM, '--units', 'us')).out).toContain('5.7 mi');
  });

  it('takes a treeline for routes that state none', async () => {
    const { out } = await krummholz(
      'measure',
      `${ROUTES}/windlass-top.gpx`,
      '--dem',
      DEM,
      '--treeline-m',
      '1900',
    );
    expect(out).toContain('1,900 m (set by the program)');
  });
});

describe('krummholz rank', () => {
  it('gives the contract’s shortlist as JSON', async () => {
    const { status, out } = await rank('marram-seniors', '--format', 'json');
    expect(status).toBe(0);
    const shortlist = JSON.parse(out);
    expect(shortlist).toMatchObject({ cohort: { name: 'Marram Seniors' }, date: '2026-07-11' });
    expect(shortlist.meaning).toContain('not a statement that the day is safe');
    const [first] = shortlist.routes;
    expect(first).toMatchObject({ rank: 1, verdict: 'fits', rankLow: 1 });
    expect(first.rankHigh).toBeGreaterThanOrEqual(1);
    const shares = shortlist.routes.map((route: { firstShare: number }) => route.firstShare);
    expect(shares.reduce((sum: number, share: number) => sum + share, 0)).toBeCloseTo(1, 6);
    expect(shortlist.order.clearWinner).toBe(first.firstShare >= 0.5);
    expect(first.criteria.map((criterion: { name: string }) => criterion.name)).toEqual([...CRITERION_NAMES]);
    expect(first.day.start).toMatch(/^2026-07-11T\d\d:\d\d:00-02:00$/);
    const high = shortlist.routes.find(({ name }: { name: string }) => name === 'Two Knolls Round');
    expect(high.day.probabilityBelowTreelineByDeadline).toBeGreaterThanOrEqual(0.95);
    for (const moment of ['summit', 'belowTreeline', 'trailhead']) {
      const { p10, p50, p90 } = high.day[moment];
      expect([p10, p50, p90]).toEqual([p10, p50, p90].sort());
    }
  });

  it('gives a group that trained further more routes that fit and a harder first place', async () => {
    const lists = await Promise.all(
      ['cranny-juniors', 'marram-seniors', 'plover-adults'].map(async (name) =>
        JSON.parse((await rank(name, '--format', 'json')).out),
      ),
    );
    const fitting = lists.map(
      (list) => list.routes.filter((route: { verdict: string }) => route.verdict === 'fits').length,
    );
    expect(fitting).toEqual([...fitting].sort((a, b) => a - b));
    expect(new Set(fitting).size).toBe(3);
    const gains = lists.map((list) => list.routes[0].measures.gainM.value);
    expect(gains).toEqual([...gains].sort((a, b) => a - b));
    for (const list of lists) {
      const verdicts = new Set(list.routes.map((route: { verdict: string }) => route.verdict));
      expect(verdicts.has('ruledOut') && verdicts.has('notYet')).toBe(true);
    }
  });

  it('ends with what fits means and the cautions', async () => {
    const { out } = await rank('cranny-juniors');
    expect(out).toContain('not a statement that the day is safe');
    expect(out).toContain('On hearing thunder go down below');
  });

  it('never shows a member’s label', async () => {
    const outputs = await Promise.all([rank('cranny-juniors'), rank('cranny-juniors', '--format', 'json')]);
    for (const { out } of outputs) expect(out).not.toMatch(/\bm[1-9]\b/);
  });
});

describe('krummholz plan', () => {
  const TODAY = ['--today', '2026-07-02'];
  const planOf = (name: string, route: string, ...more: string[]) =>
    krummholz(
      'plan',
      '--cohort',
      cohort(name),
      '--route',
      `${ROUTES}/${route}.gpx`,
      '--dem',
      DEM,
      ...DATE,
      ...TODAY,
      ...more,
    );
  const plan = (...more: string[]) => planOf('marram-seniors', 'two-knolls-round', ...more);

  it('prints the day with its doubt, its deadline, its turn-back times and the cautions', async () => {
    const { status, out, err } = await plan();
    expect({ status, err }).toEqual({ status: 0, err: '' });
    expect(out).toContain('Oatcake Knoll');
    expect(out).toMatch(/Deadline to be below treeline: 11:06/);
    expect(out).toContain('Turn back if not here by');
    expect(out).toContain('Naismith');
    expect(out).toContain('not a statement that the day is safe');
    expect(out).toContain('never on minors');
  });

  it('prints every page, in order, or those asked for', async () => {
    const titles = [
      /^Trip plan · Two Knolls Round · 2026-07-11$/m,
      /^Route card · Two Knolls Round$/m,
      /^Go or not: /m,
      /^If something goes wrong: /m,
      /^Your day: /m,
      /^Kept at the office: /m,
      /^Training for Two Knolls Round$/m,
    ];
    const { out } = await plan();
    const places = titles.map((title) => out.search(title));
    expect(places.every((place) => place >= 0)).toBe(true);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    const some = (await plan('--page', 'office', 'training')).out;
    expect(titles.map((title) => title.test(some))).toEqual([false, false, false, false, false, true, true]);
    expect((await plan('--page', 'poster')).status).toBe(2);
  });

  it('gives programs the same day in numbers', async () => {
    const document = JSON.parse((await plan('--format', 'json', '--routes', ROUTES)).out);
    expect(document.fit.name).toBe('Two Knolls Round');
    expect(document.timeline.length).toBeGreaterThan(5);
    expect(document.cutOffTimes.length).toBeGreaterThan(2);
    const top = document.cutOffTimes.at(-1);
    expect(top).toMatchObject({ kind: 'high', reason: 'storm', cannotBeMet: false });
    expect(document.retreatTimes.find(({ kind }: { kind: string }) => kind === 'high').at).toBe(top.at);
    for (const { at } of document.timeline)
      expect([at.p10, at.p50, at.p90].sort()).toEqual([at.p10, at.p50, at.p90]);
    expect(document.supplies.water.each.packedL).toBeGreaterThanOrEqual(2);
    expect(document.kit.length).toBeGreaterThan(10);
    expect(document.routeCard.legs.length).toBe(document.timeline.length - 1);
    expect(document.trainingPlan.state).toBe('ready');
    expect(document.lowerChoice.name).not.toBe('Two Knolls Round');
    expect(document.spareDate).toEqual({ date: '2026-07-18', isSuggestion: true });
    expect(document.paceFrom.checkedOn).toContain('one recorded day of one fit adult');
  });

  it('keeps labels of members out of every page and out of the JSON', async () => {
    for (const out of [
      (await plan()).out,
      (await plan('--format', 'json')).out,
      (await plan('--format', 'html')).out,
    ]) {
      expect(out).not.toMatch(/\bm[1-9]\b/);
    }
  });

  it('takes a start and a spare date of the leader’s own, and a warm day', async () => {
    const own = JSON.parse(
      (await plan('--format', 'json', '--start', '07:30', '--spare-date', '2026-07-20', '--warm')).out,
    );
    const usual = JSON.parse((await plan('--format', 'json')).out);
    expect(own.stormWindow.start).toBe('2026-07-11T07:30:00-02:00');
    expect(own.stormWindow.probabilityBelowTreelineByDeadline).toBeLessThan(
      usual.stormWindow.probabilityBelowTreelineByDeadline,
    );
    // A cut-off time is a time of day: it does not move with the start.
    expect(own.cutOffTimes.at(-1).at).toBe(usual.cutOffTimes.at(-1).at);
    expect(own.spareDate).toEqual({ date: '2026-07-20', isSuggestion: false });
    expect(own.supplies.water.each.packedL).toBeGreaterThan(usual.supplies.water.each.packedL);
    expect((await plan('--start', '07:30', '--page', 'leaders')).out).toMatch(
      /This start is 2 h 1\d min later than the latest one for 90 %/,
    );
    expect((await plan('--start', 'dawn')).err).toContain('HH:MM');
    expect((await plan('--spare-date', 'soon')).err).toContain('YYYY-MM-DD');
  });

  it('writes the route with its checkpoints as GPX, and one HTML file that fetches nothing', async () => {
    const gpx = (await plan('--format', 'gpx')).out;
    expect(gpx.match(/<wpt /g)?.length).toBeGreaterThan(5);
    expect(gpx).toContain('<name>Oatcake Knoll</name>');
    const html = (await plan('--format', 'html')).out;
    expect(html).toMatch(/^<!doctype html>/i);
    expect(html).not.toMatch(/(src|href)="(https?:)?\/\//);
  });

  it('says what to state where treeline is not known, and gives no time for storms', async () => {
    const { out } = await planOf('marram-seniors', 'bellbuoy-east', '--page', 'leaders');
    expect(out).toContain(
      'Treeline is not known, so no turn-back time for storms can be given: state its height',
    );
    expect(out).toContain('for light alone');
    const document = JSON.parse((await planOf('marram-seniors', 'bellbuoy-east', '--format', 'json')).out);
    expect(document.cutOffTimes.every(({ storm }: { storm: string | null }) => storm === null)).toBe(true);
    expect(document.retreatTimes).toEqual([]);
  });

  it('says of a route that cannot be done in the window by how much, and offers no time that cannot be kept', async () => {
    const { out } = await planOf('marram-seniors', 'oakum-dome', '--page', 'leaders');
    expect(out).toMatch(
      /This route cannot be done in the window: 90 % would take a start .* before the earliest one/,
    );
    expect(out).toContain('cannot be met');
    expect(out).toContain('Not yet a day for this group');
  });

  it('plans what it can where no tile covers the line', async () => {
    const far = file(
      'far.gpx',
      '<gpx version="1.1"><trk><name>Far</name><trkseg><trkpt lat="10" lon="10"/><trkpt lat="10.02" lon="10"/></trkseg></trk></gpx>',
    );
    const { status, out } = await krummholz(
      'plan',
      '--cohort',
      cohort('marram-seniors'),
      '--route',
      far,
      '--dem',
      DEM,
      ...DATE,
      ...TODAY,
    );
    expect(status).toBe(0);
    expect(out).toContain('heights under the line are not known');
    expect(out).toContain('Training for Far');
  });

  it('prints the same turn-back times on the sheet and on the morning card', async () => {
    for (const [name, route, ...more] of [
      ['marram-seniors', 'two-knolls-round'],
      ['marram-seniors', 'oakum-dome'],
      ['marram-seniors', 'bellbuoy-east'],
      ['plover-adults', 'cistern-traverse'],
      ['marram-seniors', 'two-knolls-round', '--start', '14:00'],
    ] as const) {
      const { pages } = JSON.parse((await planOf(name, route, '--format', 'json', ...more)).out);
      const tableOf = (key: string, heading: RegExp): string[][] =>
        pages
          .find((one: { key: string }) => one.key === key)
          .page.sections.find((one: { heading: string }) => heading.test(one.heading)).table?.rows ?? [];
      const sheet = tableOf('leaders', /^The day$/).map((row) => [row[0], row[6], row[7]]);
      for (const [place, cutOff, retreat] of tableOf('morning', /^On the way/)) {
        expect(sheet).toContainEqual([place, cutOff, retreat]);
      }
    }
  });

  it('says on the first sheet what is to be checked before the day', async () => {
    const { out } = await plan('--page', 'leaders');
    expect(out.slice(0, out.indexOf('The day'))).toMatch(/To check first: .*the class \(stated as 1\+\)/s);
    expect(out).toContain('Check: the class (stated as 1+)');
    expect(out).not.toContain('design-1');
  });

  it('judges a start of the leader’s own, not the earliest one', async () => {
    const late = JSON.parse((await plan('--format', 'json', '--start', '09:30')).out);
    const storms = late.fit.criteria.find(({ name }: { name: string }) => name === 'stormWindow');
    expect(storms.verdict).toBe('notYet');
    expect(late.fit.verdict).not.toBe('fits');
    const { out } = await plan('--start', '09:30', '--page', 'leaders', 'participants');
    expect(out).toMatch(/This start is 4 h \d+ min too late to be below treeline in time/);
    expect(out).toContain('No page for participants');
    expect(out).not.toContain('Your day:');
  });

  it('counts the planned way on a traverse, and says by when going back is still in time', async () => {
    const { out } = await planOf('plover-adults', 'cistern-traverse', '--page', 'leaders');
    expect(out).toMatch(
      /Leave the top by 09:\d\d to go on the planned way; later than that go back the way you came, by 09:\d\d/,
    );
    expect(out).not.toContain('wherever you are');
  });

  it('tells a trip whose date has gone by from one to train for', async () => {
    const { out } = await plan('--page', 'training', '--today', '2026-08-01');
    expect(out).toContain('lies before today, 2026-08-01');
  });
});

describe('krummholz ladder', () => {
  const ladder = (name: string, target: string, ...more: string[]) =>
    krummholz(
      'ladder',
      '--cohort',
      cohort(name),
      '--routes',
      ROUTES,
      '--dem',
      DEM,
      '--target',
      target,
      '--date',
      '2026-08-22',
      '--today',
      '2026-07-02',
      ...more,
    );

  it('names the known routes that lead to a target, dated, with no label in it', async () => {
    const { status, out } = await ladder('plover-adults', 'Oakum Dome');
    expect(status).toBe(0);
    expect(out).toMatch(/2026-08-15 {2}Petrel Knob/);
    expect(out).toContain('shown enough');
    const { state, rungs } = JSON.parse(
      (await ladder('plover-adults', 'Oakum Dome', '--format', 'json')).out,
    );
    expect({ state, names: rungs.map(({ name }: { name: string }) => name) }).toEqual({
      state: 'ladder',
      names: ['Petrel Knob'],
    });
    expect(out).not.toMatch(/\bm[1-9]\b/);
  });

  it('says what is missing where there is none, and which names it knows', async () => {
    const { out } = await ladder('marram-seniors', 'Oakum Dome');
    expect(out.replace(/\s+/g, ' ')).toContain('No ladder leads to Oakum Dome');
    const { status, err } = await ladder('marram-seniors', 'Nowhere');
    expect(status).toBe(2);
    expect(err).toContain('Oakum Dome');
  });
});

describe('krummholz dem', () => {
  it('lists the tiles with place, unit and void', async () => {
    const { status, out } = await krummholz('dem', DEM);
    expect(status).toBe(0);
    expect(out).toContain('corvanney-west.tif');
    expect(JSON.parse((await krummholz('dem', DEM, '--format', 'json')).out).tiles).toHaveLength(2);
  });
});

describe('a command that cannot be done', () => {
  it.each([
    [2, [], 'name a command'],
    [2, ['rnak'], 'Did you mean rank?'],
    [2, ['measure', ROUTE], '--dem'],
    [2, ['measure', ROUTE, '--dem', DEM, '--treeline-m', '11,500ft'], 'metres'],
    [2, ['measure', ROUTE, '--dem', DEM, '--format', 'xml'], 'table, json'],
    [1, ['measure', 'nowhere.gpx', '--dem', DEM], 'nowhere.gpx'],
    [1, ['measure', ROUTE, '--dem', 'nowhere'], 'nowhere'],
    [
      1,
      ['rank', '--cohort', cohort('plover-adults'), '--routes', ROUTES, '--dem', DEM, '--date', '2026-02-30'],
      'YYYY-MM-DD',
    ],
    [1, ['rank', '--cohort', ROUTE, '--routes', ROUTES, '--dem', DEM, ...DATE], 'two-knolls-round.gpx'],
  ] as const)('ends with %i and one line: %j', async (status, argv, said) => {
    const result = await krummholz(...argv);
    expect(result.status).toBe(status);
    expect(result.out).toBe('');
    expect(result.err).toContain(said);
    expect(result.err.trimEnd().split('\n')).toHaveLength(1);
  });

  it('names the fault of a cohort file by its place in it', async () => {
    const path = file(
      'cohort.json',
      JSON.stringify({ name: 'Lantern Group', participants: 8, ageBand: '12-15' }),
    );
    const { status, err } = await krummholz(
      'rank',
      '--cohort',
      path,
      '--routes',
      ROUTES,
      '--dem',
      DEM,
      ...DATE,
    );
    expect(status).toBe(1);
    expect(err).toContain('cohort.json');
    expect(err).toContain('/ageBand');
  });

  it('names the fault of an attribute file beside its route', async () => {
    const gpx = file(
      'ridge.gpx',
      '<gpx><trk><trkseg><trkpt lat="46.1" lon="-30.2"/><trkpt lat="46.11" lon="-30.2"/></trkseg></trk></gpx>',
    );
    file('ridge.route.json', '{"rockClas": "2"}');
    const { status, err } = await krummholz('measure', gpx, '--dem', DEM);
    expect(status).toBe(1);
    expect(err).toContain('ridge.route.json');
    expect(err).toContain('rockClass');
  });

  it('measures a line that no tile covers, without figures that nobody knows', async () => {
    const far = file(
      'far.gpx',
      '<gpx><trk><name>Far</name><trkseg><trkpt lat="10" lon="10"/><trkpt lat="10.02" lon="10"/></trkseg></trk></gpx>',
    );
    const { status, out } = await krummholz('measure', far, '--dem', DEM, '--format', 'json');
    expect(status).toBe(0);
    const [route] = JSON.parse(out);
    expect(route.measures).toMatchObject({ gainM: null, highM: null, demCoverage: 0 });
    expect(route.notes.map((note: { code: string }) => note.code)).toContain('no-coverage');
  });

  it('refuses coordinates that lie on the tiles only when swapped', async () => {
    const swapped = file(
      'swapped.gpx',
      '<gpx><trk><trkseg><trkpt lat="-30.2" lon="46.1"/><trkpt lat="-30.21" lon="46.1"/></trkseg></trk></gpx>',
    );
    const { status, err } = await krummholz('measure', swapped, '--dem', DEM);
    expect(status).toBe(1);
    expect(err).toContain('coordinates-look-swapped');
  });
});
