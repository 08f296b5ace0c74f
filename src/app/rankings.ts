import { createHash } from 'node:crypto';
import { isDeepStrictEqual } from 'node:util';
import { LRUCache } from 'lru-cache';
import type { Design } from '../design.ts';
import { factsOf } from '../rank/facts.ts';
import { type RankTable, tableOf } from '../rank/rank-table.ts';
import { rankFacts, type TableRanking } from '../rank/ranking.ts';
import type { FitRequest } from '../rank/readiness.ts';
import { type RouteRow, rowOf } from '../rank/route-row.ts';
import {
  certaintyOf,
  certaintyQuestion,
  type ListCertainty,
  type TriedOrder,
  tryQuestion,
} from '../sampling/certainty.ts';
import type { NamedRoute, RouteRepository } from '../storage/routes.ts';

/** All stored routes as a table, with their ids and revisions by place. */
export interface StoredTable {
  readonly table: RankTable;
  readonly ids: readonly string[];
  readonly revisions: readonly number[];
}

/** The order of a table, while it may still be sampled how sure it is. */
export interface StoredRanking extends TableRanking {
  readonly certainty: Promise<ListCertainty>;
}

/** `tryQuestion`, here or in a thread. */
export type SampleOrder = (question: Parameters<typeof tryQuestion>[0]) => TriedOrder | Promise<TriedOrder>;

/** A table as it is kept until the next change; `version` of the store when it was read. */
type KnownTable = StoredTable & { readonly version: number };

export type Rankings = ReturnType<typeof rankings>;

/** With more routes than these unknown all rows are read at once. */
const MOST_ROWS_ASKED = 500;

/** Rankings kept, bytes (design: some thirty of ten thousand routes). */
const KEPT_BYTES = 48 * 1024 * 1024;

const bytesOf = ({ order, verdicts, scores, ranks, values }: TableRanking): number =>
  [order, verdicts, scores, ranks, values].reduce((sum, part) => sum + part.byteLength, 1);

/** Numbers for objects, the same for the same: names of what is large in the keys of a cache. */
export function numbering<T extends object>(): (object: T) => number {
  const numbers = new WeakMap<T, number>();
  let last = 0;
  return (object) => {
    const number = numbers.get(object) ?? last + 1;
    last = Math.max(last, number);
    numbers.set(object, number);
    return number;
  };
}

/**
 * Rankings of a library, made from its stored rows: when a route has changed its row is read again and the others stay
 * what they are; a ranking is made again when the table, the cohort with its outings, the date or the settings have
 * changed. A change that ranking does not look at, such as a note, leaves table and rankings as they are.
 */
export function rankings(routes: RouteRepository, sample: SampleOrder = tryQuestion) {
  let known: KnownTable | null = null;
  let knownNames: { readonly version: number; readonly names: readonly NamedRoute[] } | null = null;
  const cache = new LRUCache<string, StoredRanking>({ maxSize: KEPT_BYTES, sizeCalculation: bytesOf });
  const numberOf = numbering<RankTable>();

  /** The row of a route that an older program stored. */
  async function rowNow(id: string, design: Design): Promise<RouteRow | null> {
    const stored = await routes.get(id);
    return stored === null ? null : rowOf(stored.route, design);
  }

  /** The rows of all routes; of those that have not changed the very same as before. */
  async function rowsNow(before: KnownTable | null, design: Design) {
    const earlier = new Map(
      before?.ids.map((id, i) => [id, { revision: before.revisions[i], row: before.table.rows[i] }]),
    );
    const now = await routes.revisions();
    const changed = now
      .filter(({ id, revision }) => earlier.get(id)?.revision !== revision)
      .map(({ id }) => id);
    const read = changed.length > MOST_ROWS_ASKED ? await routes.rows() : await routes.rowsOf(changed);
    const fresh = new Map(read.map((stored) => [stored.id, stored]));
    const ids: string[] = [];
    const revisions: number[] = [];
    const rows: RouteRow[] = [];
    for (const { id, revision } of now) {
      const old = earlier.get(id);
      const stored = fresh.get(id);
      let row: RouteRow | null | undefined = old?.row;
      if (old?.revision !== revision) {
        // Deleted since: the next question finds another version.
        if (stored === undefined) continue;
        const found = stored.row ?? (await rowNow(id, design));
        row = isDeepStrictEqual(found, old?.row) ? old?.row : found;
      }
      if (row == null) continue;
      ids.push(id);
      revisions.push(old?.revision === revision ? revision : (stored?.revision ?? revision));
      rows.push(row);
    }
    return { ids, revisions, rows };
  }

  async function tableNow(design: Design): Promise<StoredTable> {
    // Asked first: what changes in between is found at the next question.
    const version = await routes.version();
    const before = known;
    if (before !== null && before.version === version) return before;
    const { ids, revisions, rows } = await rowsNow(before, design);
    const isSame =
      before !== null &&
      rows.length === before.table.size &&
      rows.every((row, i) => row === before.table.rows[i] && ids[i] === before.ids[i]);
    const table = isSame ? before.table : tableOf(rows, before?.table);
    known = { version, table, ids, revisions };
    return known;
  }

  /** All routes by name alone, in the order in which they came. */
  async function named(): Promise<readonly NamedRoute[]> {
    const version = await routes.version();
    if (knownNames === null || knownNames.version !== version) {
      knownNames = { version, names: await routes.named() };
    }
    return knownNames.names;
  }

  return {
    tableNow,
    named,

    /** The ranking of a table for a cohort on a date, kept for those who ask again. */
    rankingFor({ table }: StoredTable, request: FitRequest): StoredRanking {
      const { record, date, design } = request;
      const asked = JSON.stringify([numberOf(table), date, record, design]);
      const key = createHash('sha256').update(asked).digest('base64');
      const before = cache.get(key);
      if (before !== undefined) return before;
      const order = rankFacts(factsOf(table, request));
      const sampled = Promise.resolve(sample(certaintyQuestion(table, order, request)));
      const certainty = sampled.then(certaintyOf);
      // Whoever asked gets the error; the next one has it sampled again.
      certainty.catch(() => cache.delete(key));
      const ranking = { ...order, certainty };
      cache.set(key, ranking);
      return ranking;
    },
  };
}
