/** Days that stored groups have walked (outings, as the API calls them). An outing is recorded once; it never changes. */

import { EngineError } from '../errors.ts';
import { checkOuting } from '../ingest/cohort-file.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Page } from '../storage/context.ts';
import type { KeptOuting, StoredOuting } from '../storage/outings.ts';
import { comparedDay } from './after.ts';
import { type Context, found } from './context.ts';
import { getCohort, recordOf } from './groups.ts';
import { checkDate } from './question.ts';
import { homeOf, keptOuting, type OutingRecord, outingByHand, recordedDay } from './recordings.ts';
import { getRoute } from './routes.ts';

/** A recorded day as it is sent: the file, and what a track cannot say. */
export interface SentOuting extends OutingRecord {
  readonly bytes: Uint8Array;
  readonly mediaType: string | null;
  /** What people tell of the day, as in `OutingInput`. */
  readonly turnedBecause?: string | null;
  readonly nearMisses?: readonly string[] | null;
  /** The stored route that was planned for the day; `null`: no plan to compare with. */
  readonly routeId?: string | null;
}

/** Stores a day entered by hand. */
export async function addOutingByHand(
  context: Context,
  cohortId: string,
  value: unknown,
): Promise<StoredOuting> {
  const { cohort } = await getCohort(context, cohortId);
  const input = checkOuting(value, cohort.members ?? null);
  if (input.track != null) {
    throw new EngineError('bad-outing', 'an outing in JSON has no track: send the GPX file itself', {
      pointer: '/track',
    });
  }
  const outing = keptOuting(outingByHand(input), input, context.nowMs());
  return found(await context.store.outings.add(cohortId, outing), 'cohort');
}

/**
 * Measures a recorded day and stores what was learned, and how the plan of its route went; the track itself is
 * dropped.
 */
export async function addOutingOfTrack(
  context: Context,
  cohortId: string,
  sent: SentOuting,
): Promise<StoredOuting> {
  const { ground } = context;
  const stored = await getCohort(context, cohortId);
  const { cohort } = stored;
  const { date, rockClass, members, turnedBecause, nearMisses } = sent;
  const input = checkOuting(
    { date: checkDate(date), track: 'body', rockClass, members, turnedBecause, nearMisses },
    cohort.members ?? null,
  );
  const planned = sent.routeId == null ? null : await getRoute(context, sent.routeId);
  const day = await recordedDay(sent, { date, rockClass, members }, ground, homeOf(cohort));
  // The times of the plan beside it rest on the route's tiles too.
  const attribution = attributionOf(planned === null ? [day.outing] : [day.outing, planned.route]);
  const outing = { ...keptOuting(day.outing, input, context.nowMs()), attribution };
  const add = async (kept: KeptOuting) => found(await context.store.outings.add(cohortId, kept), 'cohort');
  if (planned === null) return add(outing);
  const asked = { record: await recordOf(context, stored), date, design: ground.design };
  const compared = comparedDay(planned.route, asked, day);
  return add({ ...outing, planned: { routeId: planned.id, ...compared } });
}

export async function getOuting({ store }: Context, cohortId: string, id: string): Promise<StoredOuting> {
  return found(await store.outings.get(cohortId, id), 'outing');
}

export async function listOutings(context: Context, cohortId: string, page: Page) {
  await getCohort(context, cohortId);
  return context.store.outings.list(cohortId, page);
}

export async function deleteOuting({ store }: Context, cohortId: string, id: string): Promise<void> {
  if (!(await store.outings.delete(cohortId, id))) found(null, 'outing');
  await store.checkpoint();
}
