import type { Selectable } from 'kysely';
import { EngineError } from '../errors.ts';
import type { RouteRow } from '../rank/route-row.ts';
import type { Route } from '../route/describe-route.ts';
import { nextTimeMs, type Page, type StoreContext } from './context.ts';
import type { RouteTable } from './tables.ts';

export interface StoredRoute {
  readonly id: string;
  readonly revision: number;
  readonly createdAtMs: number;
  readonly updatedAtMs: number;
  readonly method: string;
  readonly route: Route;
}

/** A route with what ranking looks at. */
export interface RankedRoute {
  readonly route: Route;
  readonly row: RouteRow;
}

/** The same without the route; `null` where an older program stored it. */
interface StoredRow {
  readonly id: string;
  readonly revision: number;
  readonly row: RouteRow | null;
}

/** What people call a route, where it begins and who gives permits for it; `null`: not stated. */
export interface NamedRoute {
  readonly id: string;
  readonly name: string;
  readonly trailhead: string | null;
  readonly permitFrom: string | null;
}

/** A route that was sent: new, or put in the place of one that is stored. */
interface SentRoute extends RankedRoute {
  /** The stored route that it changes, at this revision; without: it is a new one. */
  readonly inPlaceOf?: { readonly id: string; readonly revision: number } | null;
}

/** What is stated of a route, with what ranking looks at; `row` `null` where an older program stored it. */
interface StatedRoute extends Omit<StoredRow, 'revision'> {
  readonly name: string;
  readonly attributes: Route['attributes'];
}

/** The routes of one file that was sent. */
interface NewRoutes {
  readonly contentHash: string;
  readonly routes: readonly SentRoute[];
}

export interface RouteRepository {
  /**
   * Stores the routes of several files, all or nothing; those that are there already stay as they are.
   * @throws EngineError `precondition-failed` where one that was to be changed is gone or has another revision by now.
   */
  add(
    files: readonly NewRoutes[],
    method: string,
  ): Promise<{ readonly routes: readonly StoredRoute[]; readonly created: number }>;
  /** Those that lie on the same line to the last decimal, in the order in which they came. */
  onLine(line: Route['line']): Promise<readonly StoredRoute[]>;
  /** The routes of a file that was sent before, in its order; `null` unless all of them are still there. */
  ofContent(contentHash: string): Promise<readonly StoredRoute[] | null>;
  get(id: string): Promise<StoredRoute | null>;
  list(page: Page): Promise<readonly StoredRoute[]>;
  all(): Promise<readonly StoredRoute[]>;
  /** All routes by name alone, in the order in which they came. */
  named(): Promise<readonly NamedRoute[]>;
  /** What is stated of all of them, in the order in which they came; no line is read. */
  stated(): Promise<readonly StatedRoute[]>;
  /** These of them that are still there, in any order. */
  many(ids: readonly string[]): Promise<readonly StoredRoute[]>;
  /** What ranking looks at, of all of them, in the order of creation. */
  rows(): Promise<readonly StoredRow[]>;
  /** The same of these of them, in any order. */
  rowsOf(ids: readonly string[]): Promise<readonly StoredRow[]>;
  /** All of them by revision alone, in the order of creation. */
  revisions(): Promise<readonly Omit<StoredRow, 'row'>[]>;
  /** Another number than before as soon as any route was added, changed or deleted. */
  version(): Promise<number>;
  /** Ids of the routes measured by other methods, settings or tiles than these, or stored without their row. */
  notMeasuredBy(method: string): Promise<readonly string[]>;
  /** `null` where the route is gone or has another revision by now. */
  replace(id: string, revision: number, route: RankedRoute, method: string): Promise<StoredRoute | null>;
  /** False where the route is gone or has another revision; `null` deletes any. */
  delete(id: string, revision: number | null): Promise<boolean>;
}

const round7 = (deg: number): number => Math.round(deg * 1e7) / 1e7;

const lineText = (line: Route['line']): string =>
  JSON.stringify(line.map((points) => points.map(([lon, lat]) => [round7(lon), round7(lat)])));

function columnsOf({
  route,
  row,
}: RankedRoute): Pick<RouteTable, 'name' | 'attributes' | 'line' | 'measured' | 'ranking'> {
  const { name, attributes, line, ...measured } = route;
  return {
    name,
    attributes: JSON.stringify(attributes),
    line: lineText(line),
    measured: JSON.stringify(measured),
    ranking: JSON.stringify(row),
  };
}

function storedRoute(row: Selectable<RouteTable>): StoredRoute {
  const { id, revision, createdAtMs, updatedAtMs, method, name, line: text } = row;
  let line: Route['line'] | null = null;
  const route = {
    ...JSON.parse(row.measured),
    name,
    attributes: JSON.parse(row.attributes),
    // Read when it is asked for: a route is told without its line, which takes more room than its text.
    get line() {
      line ??= JSON.parse(text) as Route['line'];
      return line;
    },
  } as Route;
  return { id, revision, createdAtMs, updatedAtMs, method, route };
}

const storedRow = ({
  id,
  revision,
  ranking,
}: Pick<Selectable<RouteTable>, 'id' | 'revision' | 'ranking'>): StoredRow => ({
  id,
  revision,
  row: ranking === '' ? null : (JSON.parse(ranking) as RouteRow),
});

/**
 * Long because it is a list: one statement after another.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function routeRepository({ db, nowMs, newId }: StoreContext): RouteRepository {
  return {
    add(files, method) {
      return db.transaction().execute(async (trx) => {
        const routes: StoredRoute[] = [];
        let created = 0;
        for (const { contentHash, routes: measured } of files) {
          for (const [position, { inPlaceOf, ...route }] of measured.entries()) {
            if (inPlaceOf != null) {
              const { id, revision } = inPlaceOf;
              const earlier = await trx
                .selectFrom('routes')
                .selectAll()
                .where('id', '=', id)
                .where('revision', '=', revision)
                .executeTakeFirst();
              // Thrown, so that nothing of the other files stays either.
              if (earlier === undefined) {
                throw new EngineError(
                  'precondition-failed',
                  'the route has changed meanwhile: send the files again',
                );
              }
              const columns = columnsOf(route);
              // Nothing new is stated or measured: no new revision either.
              const isSame =
                earlier.attributes === columns.attributes && earlier.measured === columns.measured;
              if (isSame && earlier.method === method) {
                routes.push(storedRoute(earlier));
                continue;
              }
              const change = { ...columns, method, revision: revision + 1, updatedAtMs: nowMs() };
              await trx.updateTable('routes').set(change).where('id', '=', id).execute();
              routes.push(storedRoute({ ...earlier, ...change }));
              continue;
            }
            const known = await trx
              .selectFrom('routes')
              .selectAll()
              .where('contentHash', '=', contentHash)
              .where('position', '=', position)
              .executeTakeFirst();
            if (known !== undefined) {
              routes.push(storedRoute(known));
              continue;
            }
            const atMs = await nextTimeMs(trx, 'routes', nowMs());
            const row = {
              id: newId('rt'),
              contentHash,
              position,
              ofFile: measured.length,
              revision: 1,
              createdAtMs: atMs,
              updatedAtMs: atMs,
              method,
              ...columnsOf(route),
            };
            await trx.insertInto('routes').values(row).execute();
            routes.push(storedRoute(row));
            created += 1;
          }
        }
        return { routes, created };
      });
    },

    async onLine(line) {
      const rows = await db
        .selectFrom('routes')
        .selectAll()
        .where('line', '=', lineText(line))
        .orderBy('createdAtMs')
        .orderBy('id')
        .execute();
      return rows.map(storedRoute);
    },

    async ofContent(contentHash) {
      const rows = await db
        .selectFrom('routes')
        .selectAll()
        .where('contentHash', '=', contentHash)
        .orderBy('position')
        .execute();
      return rows.length > 0 && rows.length === rows[0]?.ofFile ? rows.map(storedRoute) : null;
    },

    async get(id) {
      const row = await db.selectFrom('routes').selectAll().where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : storedRoute(row);
    },

    async list({ limit, after }) {
      let query = db.selectFrom('routes').selectAll().orderBy('createdAtMs').orderBy('id').limit(limit);
      if (after !== null) {
        query = query.where(({ eb, refTuple, tuple }) =>
          eb(refTuple('createdAtMs', 'id'), '>', tuple(after.createdAtMs, after.id)),
        );
      }
      return (await query.execute()).map(storedRoute);
    },

    async named() {
      const rows = await db
        .selectFrom('routes')
        .select(['id', 'name', 'attributes'])
        .orderBy('createdAtMs')
        .orderBy('id')
        .execute();
      return rows.map(({ id, name, attributes }) => {
        const { trailhead, permit } = JSON.parse(attributes) as Route['attributes'];
        return { id, name, trailhead: trailhead?.name ?? null, permitFrom: permit?.who ?? null };
      });
    },

    async stated() {
      const rows = await db
        .selectFrom('routes')
        .select(['id', 'name', 'attributes', 'ranking'])
        .orderBy('createdAtMs')
        .orderBy('id')
        .execute();
      return rows.map(({ id, name, attributes, ranking }) => ({
        id,
        name,
        attributes: JSON.parse(attributes) as Route['attributes'],
        row: ranking === '' ? null : (JSON.parse(ranking) as RouteRow),
      }));
    },

    async all() {
      const rows = await db.selectFrom('routes').selectAll().orderBy('createdAtMs').orderBy('id').execute();
      return rows.map(storedRoute);
    },

    async many(ids) {
      if (ids.length === 0) return [];
      const rows = await db
        .selectFrom('routes')
        .selectAll()
        .where('id', 'in', [...ids])
        .execute();
      return rows.map(storedRoute);
    },

    async rows() {
      const rows = await db
        .selectFrom('routes')
        .select(['id', 'revision', 'ranking'])
        .orderBy('createdAtMs')
        .orderBy('id')
        .execute();
      return rows.map(storedRow);
    },

    async rowsOf(ids) {
      if (ids.length === 0) return [];
      const rows = await db
        .selectFrom('routes')
        .select(['id', 'revision', 'ranking'])
        .where('id', 'in', [...ids])
        .execute();
      return rows.map(storedRow);
    },

    revisions() {
      return db
        .selectFrom('routes')
        .select(['id', 'revision'])
        .orderBy('createdAtMs')
        .orderBy('id')
        .execute();
    },

    async version() {
      return (await db.selectFrom('routesVersion').select('version').executeTakeFirstOrThrow()).version;
    },

    async notMeasuredBy(method) {
      const rows = await db
        .selectFrom('routes')
        .select('id')
        .where((eb) => eb.or([eb('method', '!=', method), eb('ranking', '=', '')]))
        .execute();
      return rows.map(({ id }) => id);
    },

    replace(id, revision, route, method) {
      return db.transaction().execute(async (trx) => {
        const row = await trx
          .updateTable('routes')
          .set({ ...columnsOf(route), method, revision: revision + 1, updatedAtMs: nowMs() })
          .where('id', '=', id)
          .where('revision', '=', revision)
          .returningAll()
          .executeTakeFirst();
        return row === undefined ? null : storedRoute(row);
      });
    },

    async delete(id, revision) {
      let query = db.deleteFrom('routes').where('id', '=', id);
      if (revision !== null) query = query.where('revision', '=', revision);
      return (await query.executeTakeFirst()).numDeletedRows > 0n;
    },
  };
}
