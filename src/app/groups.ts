/** Groups that are stored (cohorts, as the API calls them): kept, changed, erased, and what they have shown. */

import { type PacePicture, pacePicture } from '../capability/pace-picture.ts';
import { addDays } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import { type CohortInput, checkCohort } from '../ingest/cohort-file.ts';
import { message } from '../message.ts';
import { type CohortRecord, type FitRequest, readinessOf } from '../rank/readiness.ts';
import type { Cohort, StoredCohort } from '../storage/cohorts.ts';
import type { Page } from '../storage/context.ts';
import { dayOf, keptFrom } from '../storage/last-trip.ts';
import { predictionRecordView } from '../views/after-view.ts';
import { readinessView } from '../views/readiness-view.ts';
import { seasonRecord } from './after.ts';
import { type Context, found, stale } from './context.ts';
import { checkDate } from './question.ts';
import { keptOuting, outingByHand } from './recordings.ts';

export const getCohort = async ({ store }: Context, id: string): Promise<StoredCohort> =>
  found(await store.cohorts.get(id), 'cohort');

export const listCohorts = ({ store }: Context, page: Page): Promise<readonly StoredCohort[]> =>
  store.cohorts.list(page);

/** A stored cohort with all its outings, as the ranking takes it. */
export async function recordOf({ store }: Context, { id, cohort }: StoredCohort): Promise<CohortRecord> {
  const outings = await store.outings.all(id);
  return { cohort, outings: outings.map(({ outing }) => outing) };
}

/** What a stored cohort asks for a date. @throws EngineError `not-found`, `bad-date`. */
export async function requestOf(
  context: Context,
  cohortId: string,
  date: string,
): Promise<{ readonly cohort: StoredCohort; readonly request: FitRequest }> {
  const cohort = await getCohort(context, cohortId);
  const request = { date: checkDate(date), design: context.ground.design };
  return { cohort, request: { ...request, record: await recordOf(context, cohort) } };
}

/** The same for a trip, which keeps the cohort's data. */
export async function tripRequestOf(...asked: Parameters<typeof requestOf>): ReturnType<typeof requestOf> {
  const [context, , date] = asked;
  const found = await requestOf(...asked);
  await noteTrip(context, found.cohort, date);
  return found;
}

/** A day asked about keeps a cohort's data. Nothing is written, or waited for, where a later one does so already. */
export async function noteTrip(
  { store, nowMs }: Context,
  { id, lastTripDate }: StoredCohort,
  date: string,
): Promise<void> {
  const from = keptFrom(date, nowMs());
  if (from > lastTripDate) await store.cohorts.noteTrip(id, from);
}

/** Stores a cohort; `outings` in it may hold records entered by hand only. */
export async function addCohort(context: Context, value: unknown): Promise<StoredCohort> {
  const checked = checkCohort(value);
  const outings = (checked.outings ?? []).map((outing, i) => {
    if (outing.track == null) return keptOuting(outingByHand(outing), outing, context.nowMs());
    throw new EngineError(
      'bad-cohort',
      message`the outing at /outings/${i} names a track: leave it out here and send its GPX file to the cohort’s outings`,
      { pointer: `/outings/${i}/track` },
    );
  });
  return context.store.cohorts.add(keptCohort(checked), outings);
}

/** @throws EngineError `bad-cohort`; `precondition-failed` unless the cohort still has this revision. */
export async function putCohort(
  context: Context,
  id: string,
  revision: number,
  value: unknown,
): Promise<StoredCohort> {
  await getCohort(context, id);
  const checked = checkCohort(value);
  if (checked.outings != null && checked.outings.length > 0) {
    throw new EngineError(
      'bad-cohort',
      'outings are not changed here: leave them out, and add or delete them one by one',
      { pointer: '/outings' },
    );
  }
  const kept = await context.store.cohorts.replace(id, revision, keptCohort(checked));
  if (kept === null) throw stale('cohort');
  await context.store.checkpoint();
  return kept;
}

/** Erases a cohort and its outings; nothing of them is left in the database or its log. */
export async function deleteCohort(context: Context, id: string, revision: number | null): Promise<void> {
  await getCohort(context, id);
  if (!(await context.store.cohorts.delete(id, revision))) throw stale('cohort');
  await context.store.checkpoint();
}

/** The day after which a cohort's data are erased. */
export const eraseAfter = ({ keepDays }: Context, { lastTripDate }: StoredCohort): string =>
  addDays(lastTripDate, keepDays);

/** Erases the cohorts whose last trip lies longer ago than the program keeps them. Gives their number. */
export async function eraseExpired({ store, nowMs, keepDays }: Context): Promise<number> {
  const erased = await store.cohorts.deleteLastTripBefore(addDays(dayOf(nowMs()), -keepDays));
  // Also where none was: an earlier erasure may not have come to its end, on a full disk.
  await store.checkpoint();
  return erased;
}

/** Everything that is stored of a cohort. */
export async function exportCohort(context: Context, id: string) {
  return { cohort: await getCohort(context, id), outings: await context.store.outings.all(id) };
}

/** Erases one label from a cohort and its outings; nothing of it is left in the database or its log. */
export async function eraseMember({ store }: Context, cohortId: string, label: string): Promise<void> {
  if (!(await store.cohorts.eraseMember(cohortId, label))) found(null, 'member');
  await store.checkpoint();
}

/** What a cohort has shown on a date, with who limits it, and what its predictions were worth: for its leaders. */
export const shownOn = ({ record, date, design }: FitRequest) => ({
  readiness: readinessView(record, date, design),
  season: seasonRecord(record, date, design),
});

/** The same as it is sent. */
export const shownView = ({ readiness, season }: ReturnType<typeof shownOn>) => ({
  ...readiness,
  record: predictionRecordView(season),
});

/** The same of a stored cohort. */
export async function shownBy(context: Context, cohortId: string, date: string) {
  return shownView(shownOn((await requestOf(context, cohortId, date)).request));
}

/** What a cohort's outings up to a date have made of the rule of the trade, to be drawn. No label is in it. */
export async function pacePictureOf(context: Context, cohortId: string, date: string): Promise<PacePicture> {
  const { request } = await requestOf(context, cohortId, date);
  const { theirs, weightOf } = readinessOf(request);
  return pacePicture(theirs, request.design, weightOf);
}

function keptCohort({ outings: _, ...cohort }: CohortInput): Cohort {
  return cohort;
}
