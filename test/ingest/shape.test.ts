import Type from 'typebox';
import { describe, expect, it } from 'vitest';
import { EngineError, faultsOf } from '../../src/errors.ts';
import { checkCohort, readCohort } from '../../src/ingest/cohort-file.ts';
import { checkRouteAttributes } from '../../src/ingest/route-attributes.ts';
import { checkSeasonRequest } from '../../src/ingest/season-file.ts';
import { shapeCheck } from '../../src/ingest/shape.ts';
import { checkWhatIf } from '../../src/ingest/what-if.ts';

const pointersOf = (work: () => unknown) => faultsOf(work).map(({ place }) => place.pointer);

describe('the check of a shape', () => {
  it('tells all faults at once, those of the schema before those of the rules', () => {
    const cohort = {
      name: ' ',
      participants: 1,
      members: ['m1', 'm2'],
      going: ['m1', 'm9'],
      aim: 'fun',
      outings: [
        { date: '2026-02-30', distanceM: 'far', gainM: 1, nearMisses: ['m1 slipped', 7] },
        { date: '2026-06-20' },
      ],
    };
    expect(pointersOf(() => checkCohort(cohort))).toEqual([
      '/aim',
      '/outings/0/distanceM',
      '/outings/0/nearMisses/1',
      '/going/1',
      '/going',
      '/outings/0/date',
      '/outings/0/nearMisses/0',
      '/outings/1',
      '/name',
    ]);
  });

  it('speaks in one error for the first and carries the others, each with the file', () => {
    const error = (() => {
      try {
        return readCohort('{"name": "", "participants": 0}', 'group.json');
      } catch (thrown) {
        return thrown;
      }
    })();
    expect(error).toBeInstanceOf(EngineError);
    expect(error).toMatchObject({
      place: { pointer: '/name', file: 'group.json' },
      more: [{ code: 'bad-cohort', place: { pointer: '/participants', file: 'group.json' } }],
    });
  });

  it('has no rule speak of what the schema has refused, nor of a field missing that was mistyped', () => {
    expect(
      pointersOf(() => checkCohort({ nam: 'A', participants: 'six', going: ['m1'], members: 7 })),
    ).toEqual(['/nam', '/participants', '/members']);
    expect(pointersOf(() => checkRouteAttributes({ closures: [{ from: 'June', to: '07-40' }] }, ''))).toEqual(
      ['/closures/0/from', '/closures/0/to'],
    );
    expect(
      pointersOf(() => checkSeasonRequest({ dates: 'soon', cohorts: [7, { id: 'a' }, { id: 'a' }] })),
    ).toEqual(['/dates', '/cohorts/0', '/cohorts/2/id']);
  });

  it('goes over changes and over the cohort that they would change', () => {
    const cohort = { name: 'A', participants: 4, members: ['m1'] };
    const day = { date: '2026-07-04', distanceM: 9000, gainM: 700 };
    const changes = {
      going: ['m2'],
      outings: [
        { ...day, date: '2026-02-30' },
        { ...day, members: ['m3'] },
      ],
    };
    expect(pointersOf(() => checkWhatIf(changes, cohort))).toEqual(['/date', '/members/0', '/going/0']);
  });

  it('tells a bounded number of them', () => {
    const check = shapeCheck(Type.Array(Type.Number()), { code: 'usage', field: 'The field', whole: 'All' });
    expect(faultsOf(() => check(Array(100_000).fill('x')))).toHaveLength(20);
  });
});
