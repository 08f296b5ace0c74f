import type { Selectable } from 'kysely';
import type { Outing } from '../capability/outing.ts';
import type { PlannedAgainstActual } from '../day/planned-against-actual.ts';
import { type Cohort, noteTrip } from './cohorts.ts';
import { inOrder, nextTimeMs, type Page, type StoreContext } from './context.ts';
import { keptFrom } from './last-trip.ts';
import type { OutingTable } from './tables.ts';

/** An outing with what people tell of the day, and its plan beside it. Missing: nothing told, nothing compared. */
export interface KeptOuting extends Outing {
  /** Why the group turned back. Names nobody. */
  readonly turnedBecause?: string;
  /** What nearly went wrong. Names nobody. */
  readonly nearMisses?: readonly string[];
  /** The stored route that was planned, and how the day went against it: times at its checkpoints, no positions. */
  readonly planned?: PlannedAgainstActual & { readonly routeId: string };
}

type OutingColumns = Readonly<Selectable<OutingTable>>;

/** An outing never changes: it is recorded once and may be deleted. */
export interface StoredOuting extends Omit<OutingColumns, 'outing'> {
  readonly outing: KeptOuting;
}

const storedOuting = ({ outing, ...row }: OutingColumns): StoredOuting => ({
  ...row,
  outing: JSON.parse(outing) as KeptOuting,
});

export type OutingRepository = ReturnType<typeof outingRepository>;

export function outingRepository({ db, nowMs, newId }: StoreContext) {
  const ofCohort = (cohortId: string) =>
    db.selectFrom('outings').selectAll().where('cohortId', '=', cohortId);
  return {
    /** `null` where the cohort is gone. Labels that the cohort gave up meanwhile are not stored. */
    add(cohortId: string, outing: KeptOuting): Promise<StoredOuting | null> {
      return db.transaction().execute(async (trx) => {
        const kept = trx.selectFrom('cohorts').select('cohort').where('id', '=', cohortId);
        const cohort = await kept.executeTakeFirst();
        if (cohort === undefined) return null;
        const createdAtMs = await nextTimeMs(trx, 'outings', nowMs());
        const labels = new Set((JSON.parse(cohort.cohort) as Cohort).members ?? []);
        const members = outing.members?.filter((label) => labels.has(label)) ?? null;
        const row = {
          id: newId('ou'),
          cohortId,
          createdAtMs,
          outing: JSON.stringify({ ...outing, members }),
        };
        await trx.insertInto('outings').values(row).execute();
        await noteTrip(trx, cohortId, keptFrom(outing.date, nowMs()));
        return storedOuting(row);
      });
    },

    async get(cohortId: string, id: string) {
      const row = await ofCohort(cohortId).where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : storedOuting(row);
    },

    async list(cohortId: string, page: Page) {
      return (await inOrder(ofCohort(cohortId), page).execute()).map(storedOuting);
    },

    async all(cohortId: string) {
      return (await inOrder(ofCohort(cohortId)).execute()).map(storedOuting);
    },

    async delete(cohortId: string, id: string) {
      const query = db.deleteFrom('outings').where('cohortId', '=', cohortId).where('id', '=', id);
      return (await query.executeTakeFirst()).numDeletedRows > 0n;
    },
  };
}
