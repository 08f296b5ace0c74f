import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readCohort } from '../../src/ingest/cohort-file.ts';
import { krummholz } from '../support/terminal.ts';

const COHORT = 'data/demo/cohorts/marram-seniors.json';

const after = (...more: string[]) =>
  krummholz(
    'after',
    ...['--cohort', COHORT, '--route', 'data/demo/routes/two-knolls-round.gpx', '--dem', 'data/demo/dem'],
    ...['--date', '2026-06-14', '--track', 'data/demo/cohorts/walks/seniors-two-knolls.gpx'],
    ...more,
  );

describe('krummholz after', () => {
  it('prints plan and day, what was told, what is learned and the record', async () => {
    const { status, out, err } = await after(
      '--near-miss',
      'a stone came loose',
      '--near-miss',
      'ice at the ford',
    );
    expect({ status, err }).toEqual({ status: 0, err: '' });
    for (const part of [
      'Planned against actual',
      'Oatcake Knoll',
      'cut-off',
      ' past',
      ' met',
      'below treeline again before the deadline',
      '- a stone came loose',
      '- ice at the ford',
      'What enters the model',
      'before this day:',
      '3 days say little',
    ]) {
      expect(out).toContain(part);
    }
    expect(out.split('\n').filter((line) => line.length > 120)).toHaveLength(1);
  });

  it('names labels only in the line for the cohort file', async () => {
    const { out } = await after();
    const lines = out.trimEnd().split('\n');
    expect(lines.slice(0, -1).join('\n')).not.toMatch(/\bm[1-8]\b/);
  });

  it('ends with an outing that the cohort file takes as it is', async () => {
    const { out } = await after('--turned', 'clouds were building', '--members', 'm1, m3');
    const line = JSON.parse(out.trimEnd().split('\n').at(-1) ?? '');
    expect(line).toEqual({
      date: '2026-06-14',
      track: 'walks/seniors-two-knolls.gpx',
      rockClass: '1+',
      members: ['m1', 'm3'],
      turnedBecause: 'clouds were building',
      nearMisses: [],
    });
    const cohort = JSON.parse(readFileSync(COHORT, 'utf8'));
    readCohort(JSON.stringify({ ...cohort, outings: [...cohort.outings, line] }), 'cohort.json');
  });

  it('gives the same as JSON alone', async () => {
    const { out } = await after('--format', 'json', '--turned', 'late');
    const document = JSON.parse(out);
    expect(Object.keys(document)).toEqual([
      'cohort',
      'route',
      'planned',
      'outing',
      'prediction',
      'routeTimes',
      'record',
      'attribution',
      'toAdd',
    ]);
    expect(document.planned.checkpoints[0].passed).toMatch(/^2026-06-14T07:0\d:\d\d-02:00$/);
    expect(document.record.coverage.low).toBeLessThan(document.record.coverage.value);
    expect(document.toAdd.turnedBecause).toBe('late');
  });

  it('refuses a label in a text, and a recording of another day', async () => {
    const named = await after('--near-miss', 'M4 slipped');
    expect([named.status, named.out]).toEqual([1, '']);
    expect(named.err).toContain('"m4"');
    const other = await after('--date', '2026-06-20');
    expect(other.status).toBe(1);
    expect(other.err).toContain('bad-date');
  });

  it('says which file is missing', async () => {
    const { status, err } = await after('--track', 'nowhere.gpx');
    expect(status).toBe(1);
    expect(err).toContain('nowhere.gpx');
    expect(err).toContain('file-not-found');
  });
});

describe('krummholz shown', () => {
  it('ends with the record of predictions', async () => {
    const { out } = await krummholz(
      ...['shown', '--cohort', COHORT, '--dem', 'data/demo/dem', '--date', '2026-07-11'],
    );
    expect(out).toContain('Predictions against what happened');
    expect(out).toContain('5 days say little');
  });
});
