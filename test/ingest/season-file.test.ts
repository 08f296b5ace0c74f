import { describe, expect, it } from 'vitest';
import { EngineError } from '../../src/errors.ts';
import type { CohortInput } from '../../src/ingest/cohort-file.ts';
import { checkSeasonRequest, readSeason } from '../../src/ingest/season-file.ts';

const GROUP: CohortInput = { name: 'Lantern Group', participants: 8 };
const SEASON = { dates: ['2026-07-11'], cohorts: [{ file: 'lantern.json' }] };

const read = (season: object, cohortOf = (path: string): CohortInput => ({ ...GROUP, name: path })) =>
  readSeason(JSON.stringify(season), 'season.json', async (path) => cohortOf(path));

async function refusal(work: () => unknown): Promise<EngineError> {
  try {
    await work();
  } catch (error) {
    if (error instanceof EngineError) return error;
    throw error;
  }
  throw new RangeError('nothing was refused');
}

describe('a season file', () => {
  it('gives its terms and its cohorts, from files and written in it', async () => {
    const season = await read({
      ...SEASON,
      name: 'July',
      cohorts: [{ file: 'a/lantern.json', notOn: ['2026-07-12'], ledBy: ['l1'] }, { cohort: GROUP }],
      vehicles: [{ seats: 9, clearance: 'high' }],
      limits: [{ trailhead: 'Mill', parkingSpaces: 0 }],
    });
    expect(season.cohorts.map(({ file, cohort }) => [file, cohort.name])).toEqual([
      ['a/lantern.json', 'a/lantern.json'],
      [null, 'Lantern Group'],
    ]);
    expect(season.cohorts[0]).toMatchObject({ notOn: ['2026-07-12'], ledBy: ['l1'] });
    expect(season.limits?.[0]?.parkingSpaces).toBe(0);
  });

  it.each([
    [{ dates: [] }, '/dates'],
    [{ dates: ['2026-02-30'] }, '/dates/0'],
    [{ dates: ['2026-07-11', '2026-07-11'] }, '/dates/1'],
    [{ cohorts: [] }, '/cohorts'],
    [{ cohorts: [{}] }, '/cohorts/0'],
    [{ cohorts: [{ file: 'a.json', cohort: GROUP }] }, '/cohorts/0'],
    [{ cohorts: [{ file: 'a.json' }, { file: 'a.json' }] }, '/cohorts/1/file'],
    [{ cohorts: [{ file: '/etc/a.json' }] }, '/cohorts/0/file'],
    [{ cohorts: [{ cohort: GROUP }, { cohort: GROUP }] }, '/cohorts/1'],
    [{ cohorts: [{ cohort: { ...GROUP, participants: 0 } }] }, '/cohorts/0/cohort/participants'],
    [{ cohorts: [{ file: 'a.json', notOn: ['2026-13-01'] }] }, '/cohorts/0/notOn/0'],
    [{ cohorts: [{ file: 'a.json', ledBy: ['Anna Maria Smith'] }] }, '/cohorts/0/ledBy/0'],
    [{ cohorts: [{ file: 'a.json', ownVehicles: false }] }, '/cohorts/0/ownVehicles'],
    [{ vehicles: [] }, '/vehicles'],
    [{ vehicles: [{ seats: 0, clearance: 'any' }] }, '/vehicles/0/seats'],
    [{ limits: [{ partiesPerDay: 1 }] }, '/limits/0'],
    [{ limits: [{ trailhead: 'Mill', who: 'Warden', partiesPerDay: 1 }] }, '/limits/0'],
    [{ limits: [{ trailhead: 'Mill' }] }, '/limits/0'],
    [{ limits: [{ who: 'Warden', parkingSpaces: 3 }] }, '/limits/0/parkingSpaces'],
    [{ vehicels: [] }, '/vehicels'],
  ])('is refused with %j: one error that says where', async (change, pointer) => {
    const error = await refusal(() => read({ ...SEASON, ...change }));
    expect({ code: error.code, pointer: error.place.pointer, file: error.place.file }).toEqual({
      code: 'bad-season',
      pointer,
      file: 'season.json',
    });
    expect(error.message).not.toContain('\n');
  });

  it('passes on what is wrong with the sense of a cohort in it, with its place', async () => {
    const cohort = { ...GROUP, members: ['m1'], going: ['m2'] };
    const error = await refusal(() => read({ ...SEASON, cohorts: [{ cohort }] }));
    expect(error).toMatchObject({ code: 'bad-cohort', place: { pointer: '/cohorts/0/cohort/going/0' } });
  });

  it('is refused where it is no JSON, or empty', async () => {
    const from = (text: string) => refusal(() => readSeason(text, 'season.json', async () => GROUP));
    expect((await from('{')).code).toBe('json-malformed');
    expect((await from(' ')).code).toBe('empty-body');
    expect((await from('[]')).code).toBe('bad-season');
  });
});

describe('a season of stored cohorts', () => {
  it('names each cohort once', async () => {
    const season = { dates: ['2026-07-11'], cohorts: [{ id: 'co_1' }, { id: 'co_1' }] };
    const error = await refusal(() => checkSeasonRequest(season));
    expect(error).toMatchObject({ code: 'bad-season', place: { pointer: '/cohorts/1/id' } });
  });

  it('holds no cohort itself', async () => {
    const season = { dates: ['2026-07-11'], cohorts: [{ cohort: GROUP }] };
    expect((await refusal(() => checkSeasonRequest(season))).place.pointer).toBe('/cohorts/0/cohort');
  });
});
