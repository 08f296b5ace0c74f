import { describe, expect, it } from 'vitest';
import { addOutingByHand, addOutingOfTrack, listOutings } from '../../src/app/days.ts';
import { addCohort, putCohort } from '../../src/app/groups.ts';
import { COHORT, walkWithClock } from '../http/service.ts';
import { bytesOf } from '../ingest/samples.ts';
import { eachContext } from '../support/each-context.ts';

const at = eachContext();
const FROM_START = { limit: 100, after: null };
const HAND = { date: '2026-06-20', distanceM: 9200, gainM: 610, movingMin: 240 };
const TRACK = {
  bytes: bytesOf(walkWithClock()),
  mediaType: 'application/gpx+xml',
  date: '2026-06-20',
  rockClass: '1',
  members: ['m1', 'zq7x'],
};

describe('stored groups and their days', () => {
  it('keeps the meeting place to a hundredth of a degree', async () => {
    const { cohort } = await addCohort(at.context, COHORT);
    expect(cohort.home).toEqual({ lat: 46.12, lon: -30.23, name: 'harbour hall' });
  });

  it('takes hand-entered outings with a cohort, and sends tracks to their own place', async () => {
    const { id } = await addCohort(at.context, { ...COHORT, outings: [HAND] });
    expect(await listOutings(at.context, id, FROM_START)).toHaveLength(1);
    await expect(
      addCohort(at.context, { ...COHORT, outings: [{ date: '2026-06-20', track: 'walk.gpx' }] }),
    ).rejects.toMatchObject({ code: 'bad-cohort', place: { pointer: '/outings/0/track' } });
  });

  it('learns pace from a recorded day, and keeps no position of it', async () => {
    const { id } = await addCohort(at.context, COHORT);
    const { outing } = await addOutingOfTrack(at.context, id, TRACK);
    expect(outing).toMatchObject({ source: 'track', rockClass: '1', members: ['m1', 'zq7x'], movingMin: 96 });
    expect(outing.parts).toHaveLength(2);
    expect(JSON.stringify(outing)).not.toMatch(/46\.0|-30\.2|T08/);
  });

  it('refuses labels that the cohort does not have', async () => {
    const { id } = await addCohort(at.context, COHORT);
    await expect(addOutingByHand(at.context, id, { ...HAND, members: ['m9'] })).rejects.toMatchObject({
      code: 'bad-outing',
    });
    await expect(addOutingOfTrack(at.context, id, { ...TRACK, members: ['m9'] })).rejects.toMatchObject({
      code: 'bad-outing',
    });
    await expect(
      addOutingByHand(at.context, id, { date: '2026-06-20', track: 'x.gpx' }),
    ).rejects.toMatchObject({
      code: 'bad-outing',
    });
    expect(await listOutings(at.context, id, FROM_START)).toEqual([]);
  });

  it('notes an outing that lies ahead', async () => {
    const { id } = await addCohort(at.context, COHORT);
    const ahead = await addOutingByHand(at.context, id, { ...HAND, date: '2026-07-07' });
    expect(ahead.outing.notes.map(({ code }) => code)).toEqual(['date-ahead']);
    const today = await addOutingByHand(at.context, id, { ...HAND, date: '2026-07-06' });
    expect(today.outing.notes).toEqual([]);
  });

  it('leaves outings alone when a cohort is replaced, and refuses outings there', async () => {
    const { id } = await addCohort(at.context, { ...COHORT, outings: [{ ...HAND, members: ['m1', 'm2'] }] });
    await expect(putCohort(at.context, id, 1, { ...COHORT, outings: [HAND] })).rejects.toMatchObject({
      code: 'bad-cohort',
    });
    const changed = await putCohort(at.context, id, 1, { ...COHORT, members: ['m1'] });
    expect(changed.revision).toBe(2);
    const [outing] = await listOutings(at.context, id, FROM_START);
    expect(outing?.outing.members).toEqual(['m1']);
  });
});
