import { describe, expect, it } from 'vitest';
import { checkCohort, checkOuting, readCohort } from '../../src/ingest/cohort-file.ts';
import { errorText } from '../../src/text/errors.ts';
import { departureIn } from '../support/departure.ts';
import { caught } from './samples.ts';

const FULL = {
  name: 'Harbour group',
  participants: 9,
  leaders: 2,
  ageBand: '12-14',
  members: ['m1', 'm2', 'm-3_x'],
  going: ['m1', 'm2'],
  home: { lat: 46.1, lon: -30.2, name: 'meeting place' },
  driveLimit: { km: 120, minutes: null },
  vehicles: [{ seats: 8, clearance: 'any' }],
  comfortClass: '2',
  sleepElevationM: 0,
  altitudeHistory: 'none',
  earliestStart: '04:00',
  headlamps: true,
  deadline: null,
  aim: 'comfort',
  outings: [
    { date: '2026-06-06', track: 'walks/river.gpx', rockClass: '1', members: ['m1', 'm2'] },
    { date: '2026-06-20', distanceM: 9200, gainM: 0, movingMin: 240, maxElevationM: 1500, rockClass: '1' },
  ],
};

const read = (value: unknown) => readCohort(JSON.stringify(value), 'group.json');
const fault = (change: object) => caught(() => read({ ...FULL, ...change }));
const outing = { date: '2026-06-20', distanceM: 9200, gainM: 610 };

describe('a cohort file', () => {
  it('is read as written', () => {
    expect(read(FULL)).toEqual(FULL);
  });

  it('needs a name and the number of participants, and nothing else; no default is put in', () => {
    expect(read({ name: 'Group', participants: 1 })).toEqual({ name: 'Group', participants: 1 });
    const nulls = Object.fromEntries(
      Object.keys(FULL)
        .filter((key) => key !== 'name' && key !== 'participants')
        .map((key) => [key, null]),
    );
    expect(read({ name: 'Group', participants: 500, ...nulls })).toEqual({
      name: 'Group',
      participants: 500,
      ...nulls,
    });
    expect(caught(() => read({ participants: 9 })).place.pointer).toBe('/name');
    expect(caught(() => read({ name: 'Group' })).place.pointer).toBe('/participants');
    expect(fault({ name: ' \u200b' }).place.pointer).toBe('/name');
  });

  it('keeps the meeting place to 0.01°', () => {
    expect(read({ ...FULL, home: { lat: 46.10499, lon: -30.19712 } }).home).toEqual({
      lat: 46.1,
      lon: -30.2,
    });
  });

  it('takes labels, never names', () => {
    for (const bad of ['Anna Berg', 'a'.repeat(13), '', 'é', 'a.b', 7]) {
      const error = fault({ members: ['m1', bad], going: null, outings: null });
      expect(error.code).toBe('bad-cohort');
      expect(error.place.pointer).toBe('/members/1');
    }
    expect(departureIn(fault({ members: ['Anna Berg'] }))).toMatchObject({
      wanted: { as: expect.stringContaining('never a name') },
    });
    const twice = fault({ members: ['m1', 'm2', 'm1'] });
    expect(twice.place.pointer).toBe('/members/2');
    expect(departureIn(twice)).toEqual({ departs: 'repeated', found: 'm1' });
  });

  it('lets only members go or have walked', () => {
    expect(fault({ going: ['m1', 'm9'] }).place.pointer).toBe('/going/1');
    expect(fault({ members: null }).place.pointer).toBe('/going/0');
    expect(fault({ outings: [outing, { ...outing, members: ['m9'] }] }).place.pointer).toBe(
      '/outings/1/members/0',
    );
    expect(fault({ participants: 1 }).place).toMatchObject({ pointer: '/going', limit: 1, found: 2 });
  });

  it.each([
    ['/participants', { participants: 0 }],
    ['/participants', { participants: 501 }],
    ['/participants', { participants: 2.5 }],
    ['/participants', { participants: '9' }],
    ['/leaders', { leaders: 101 }],
    ['/leaders', { leaders: -1 }],
    ['/ageBand', { ageBand: '10-12' }],
    ['/home/lat', { home: { lon: 1 } }],
    ['/home/lon', { home: { lat: 1, lon: 181 } }],
    ['/driveLimit/km', { driveLimit: { km: -1 } }],
    ['/vehicles/0/clearance', { vehicles: [{ seats: 8, clearance: 'tall' }] }],
    ['/vehicles/0/seats', { vehicles: [{ clearance: 'any' }] }],
    ['/comfortClass', { comfortClass: '6' }],
    ['/comfortClass', { comfortClass: 2 }],
    ['/sleepElevationM', { sleepElevationM: 9000 }],
    ['/altitudeHistory', { altitudeHistory: 'some' }],
    ['/earliestStart', { earliestStart: '4:00' }],
    ['/earliestStart', { earliestStart: '24:00' }],
    ['/deadline', { deadline: '12:60' }],
    ['/headlamps', { headlamps: 'yes' }],
    ['/aim', { aim: 'fun' }],
    ['/outings', { outings: {} }],
    ['/outings/0/date', { outings: [{ ...outing, date: '2026-02-30' }] }],
    ['/outings/0/date', { outings: [{ ...outing, date: '20.6.2026' }] }],
    ['/outings/0/date', { outings: [{ distanceM: 1, gainM: 1 }] }],
    ['/outings/0', { outings: [{ date: '2026-06-20' }] }],
    ['/outings/0', { outings: [{ date: '2026-06-20', distanceM: 9200 }] }],
    ['/outings/0', { outings: [{ ...outing, track: 'a.gpx' }] }],
    ['/outings/0/gainM', { outings: [{ ...outing, gainM: -5 }] }],
  ])('points at %s in %j', (pointer, change) => {
    const error = fault(change);
    expect(error.code).toBe('bad-cohort');
    expect(error.place.pointer).toBe(pointer);
    expect(error.place.file).toBe('group.json');
    expect(errorText(error, 'metric')).toContain(pointer);
    expect(errorText(error, 'metric')).not.toContain('\n');
  });

  it('refuses an unknown field and suggests the nearest known one', () => {
    expect(departureIn(fault({ particpants: 9 }))).toMatchObject({ near: 'participants' });
    expect(departureIn(fault({ outings: [{ ...outing, gain: 5 }] }))).toMatchObject({ near: 'gainM' });
    expect(fault({ home: { lat: 1, lon: 2, street: 'x' } }).place.pointer).toBe('/home/street');
  });

  it('takes track paths relative to the file, and no others', () => {
    const at = (track: string) => read({ ...FULL, outings: [{ date: '2026-06-06', track }] });
    expect(at('../walks/river side.gpx').outings?.[0]?.track).toBe('../walks/river side.gpx');
    for (const bad of [
      '/etc/x.gpx',
      'C:/x.gpx',
      'http://localhost/x.gpx',
      'file:x',
      '\\\\host\\x',
      'a\u0000b',
      '',
    ]) {
      expect(caught(() => at(bad)).place.pointer, bad).toBe('/outings/0/track');
    }
  });

  it('reports broken JSON and depth with the file', () => {
    const error = caught(() => readCohort('{"name": "a",\n}', 'group.json'));
    expect(error.code).toBe('json-malformed');
    expect(error.place).toEqual({ file: 'group.json', line: 2, column: 1 });
    expect(caught(() => readCohort('['.repeat(99), 'group.json')).code).toBe('bad-cohort');
    expect(caught(() => readCohort('', 'group.json')).code).toBe('empty-body');
  });

  it('is checked the same when it was parsed already, however deep it is', () => {
    expect(checkCohort(FULL)).toEqual(FULL);
    let deep: unknown = 1;
    for (let i = 0; i < 100_000; i += 1) deep = [deep];
    expect(caught(() => checkCohort({ ...FULL, members: deep })).code).toBe('bad-cohort');
    expect(caught(() => checkCohort(undefined)).place.pointer).toBe('');
    expect(caught(() => checkCohort({ ...FULL, name: 'a\ud800' })).code).toBe('bad-text');
  });
});

describe('an outing alone', () => {
  it('is checked against the members', () => {
    expect(checkOuting({ ...outing, members: ['m1'] }, ['m1'])).toEqual({ ...outing, members: ['m1'] });
    const error = caught(() => checkOuting({ ...outing, members: ['m2'] }, ['m1']));
    expect(error.code).toBe('bad-outing');
    expect(error.place.pointer).toBe('/members/0');
    expect(caught(() => checkOuting({ ...outing, members: ['m2'] }, null)).code).toBe('bad-outing');
  });

  it('needs a track, or distance and climb; 0 is a value', () => {
    expect(checkOuting({ date: '2026-06-20', distanceM: 0, gainM: 0, lossM: null }, null).gainM).toBe(0);
    expect(caught(() => checkOuting({ date: '2026-06-20', gainM: 5 }, null)).message).toContain(
      '"distanceM" is missing',
    );
    expect(caught(() => checkOuting('x', null)).code).toBe('bad-outing');
  });
});
