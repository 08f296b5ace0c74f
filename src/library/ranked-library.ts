import { createHash } from 'node:crypto';
import { LRUCache } from 'lru-cache';
import type { Design } from '../design.ts';
import { type CohortRecord, readinessOf } from '../fit/rank-routes.ts';
import { type RankTable, tableOf } from '../fit/rank-table.ts';
import { type Ranking, rankingOf } from '../fit/ranking.ts';
import { type RouteRow, rowOf } from '../fit/route-row.ts';
import type { RouteRepository } from '../storage/routes.ts';

/** All stored routes as a table, with their ids by place. */
export interface LibraryTable {
  readonly version: number;
  readonly table: RankTable;
  readonly ids: readonly string[];
}

/** Rankings kept, bytes (design: some thirty of ten thousand routes). */
const KEPT_BYTES = 48 * 1024 * 1024;

const bytesOf = ({ order, verdicts, scores, ranks, values }: Ranking): number =>
  [order, verdicts, scores, ranks, values].reduce((sum, part) => sum + part.byteLength, 1);

/**
 * Rankings of a library, made from its stored rows: the table again when a route has changed, a ranking again when the
 * table, the cohort with its outings, the date or the settings have.
 */
export function rankedLibrary(routes: RouteRepository) {
  let known: LibraryTable | null = null;
  const rankings = new LRUCache<string, Ranking>({ maxSize: KEPT_BYTES, sizeCalculation: bytesOf });

  /** The row of a route that an older program stored. */
  async function rowNow(id: string, design: Design): Promise<RouteRow | null> {
    const stored = await routes.get(id);
    return stored === null ? null : rowOf(stored.route, design);
  }

  async function tableNow(design: Design): Promise<LibraryTable> {
    // Asked first: what changes in between is found at the next question.
    const version = await routes.version();
    if (known !== null && known.version === version) return known;
    const ids: string[] = [];
    const rows: RouteRow[] = [];
    for (const { id, row } of await routes.rows()) {
      const found = row ?? (await rowNow(id, design));
      if (found === null) continue;
      ids.push(id);
      rows.push(found);
    }
    known = { version, table: tableOf(rows), ids };
    return known;
  }

  return {
    tableNow,

    /** The ranking of a table for a cohort on a date, kept for those who ask again. */
    rankingFor(library: LibraryTable, record: CohortRecord, date: string, design: Design): Ranking {
      const asked = JSON.stringify([library.version, date, record, design]);
      const key = createHash('sha256').update(asked).digest('base64');
      const before = rankings.get(key);
      if (before !== undefined) return before;
      const ranking = rankingOf(library.table, record, readinessOf(record, date, design), date, design);
      rankings.set(key, ranking);
      return ranking;
    },
  };
}
