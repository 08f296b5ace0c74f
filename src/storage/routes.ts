import type { Selectable, Transaction } from 'kysely';
import { EngineError } from '../errors.ts';
import type { RouteRow } from '../rank/route-row.ts';
import type { Route } from '../route/describe-route.ts';
import { deleteRow, inOrder, nextTimeMs, type Page, type StoreContext } from './context.ts';
import type { RouteTable, Tables } from './tables.ts';

type RouteColumns = Readonly<Selectable<RouteTable>>;

export interface StoredRoute
  extends Pick<RouteColumns, 'id' | 'revision' | 'createdAtMs' | 'updatedAtMs' | 'method'> {
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
  readonly inPlaceOf?: Pick<StoredRoute, 'id' | 'revision'> | null;
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

const round7 = (deg: number): number => Math.round(deg * 1e7) / 1e7;

const lineText = (line: Route['line']): string =>
  JSON.stringify(line.map((points) => points.map(([lon, lat]) => [round7(lon), round7(lat)])));

function columnsOf({ route, row }: RankedRoute) {
  const { name, attributes, line, ...measured } = route;
  return {
    name,
    attributes: JSON.stringify(attributes),
    line: lineText(line),
    measured: JSON.stringify(measured),
    ranking: JSON.stringify(row),
  };
}

function storedRoute(row: RouteColumns): StoredRoute {
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

const storedRow = ({ ranking, ...named }: Pick<RouteColumns, 'id' | 'revision' | 'ranking'>): StoredRow => ({
  ...named,
  row: ranking === '' ? null : (JSON.parse(ranking) as RouteRow),
});

/** Puts a sent route in the place of a stored one; what says nothing new gives no new revision. */
async function changeRoute(
  trx: Transaction<Tables>,
  { inPlaceOf: { id, revision }, ...route }: RankedRoute & { inPlaceOf: NonNullable<SentRoute['inPlaceOf']> },
  method: string,
  nowMs: number,
): Promise<StoredRoute> {
  const unchanged = trx
    .selectFrom('routes')
    .selectAll()
    .where('id', '=', id)
    .where('revision', '=', revision);
  const earlier = await unchanged.executeTakeFirst();
  // Thrown, so that nothing of the other files stays either.
  if (earlier === undefined) {
    throw new EngineError('precondition-failed', 'the route has changed meanwhile: send the files again');
  }
  const columns = columnsOf(route);
  const isSame = earlier.attributes === columns.attributes && earlier.measured === columns.measured;
  if (isSame && earlier.method === method) return storedRoute(earlier);
  const change = { ...columns, method, revision: revision + 1, updatedAtMs: nowMs };
  await trx.updateTable('routes').set(change).where('id', '=', id).execute();
  return storedRoute({ ...earlier, ...change });
}

export type RouteRepository = ReturnType<typeof routeRepository>;

// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function routeRepository({ db, nowMs, newId }: StoreContext) {
  const routes = () => db.selectFrom('routes').selectAll();
  const rows = () => db.selectFrom('routes').select(['id', 'revision', 'ranking']);
  return {
    /**
     * Stores the routes of several files, all or nothing; those that are there already stay as they are.
     * @throws EngineError `precondition-failed` where one that was to be changed is gone or has another revision by now.
     */
    add(files: readonly NewRoutes[], method: string) {
      return db.transaction().execute(async (trx) => {
        const stored: StoredRoute[] = [];
        let created = 0;
        for (const { contentHash, routes: measured } of files) {
          for (const [position, { inPlaceOf, ...route }] of measured.entries()) {
            if (inPlaceOf != null) {
              stored.push(await changeRoute(trx, { ...route, inPlaceOf }, method, nowMs()));
              continue;
            }
            const ofFile = trx.selectFrom('routes').selectAll().where('contentHash', '=', contentHash);
            const known = await ofFile.where('position', '=', position).executeTakeFirst();
            if (known !== undefined) {
              stored.push(storedRoute(known));
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
            stored.push(storedRoute(row));
            created += 1;
          }
        }
        return { routes: stored, created };
      });
    },

    /** Those that lie on the same line to the last decimal, in the order in which they came. */
    async onLine(line: Route['line']) {
      const found = await inOrder(routes().where('line', '=', lineText(line))).execute();
      return found.map(storedRoute);
    },

    /** The routes of a file that was sent before, in its order; `null` unless all of them are still there. */
    async ofContent(contentHash: string) {
      const found = await routes().where('contentHash', '=', contentHash).orderBy('position').execute();
      return found.length > 0 && found.length === found[0]?.ofFile ? found.map(storedRoute) : null;
    },

    async get(id: string) {
      const row = await routes().where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : storedRoute(row);
    },

    async list(page: Page) {
      return (await inOrder(routes(), page).execute()).map(storedRoute);
    },

    async all() {
      return (await inOrder(routes()).execute()).map(storedRoute);
    },

    /** All routes by name alone, in the order in which they came. */
    async named(): Promise<NamedRoute[]> {
      const found = await inOrder(db.selectFrom('routes').select(['id', 'name', 'attributes'])).execute();
      return found.map(({ id, name, attributes }) => {
        const { trailhead, permit } = JSON.parse(attributes) as Route['attributes'];
        return { id, name, trailhead: trailhead?.name ?? null, permitFrom: permit?.who ?? null };
      });
    },

    /** What is stated of all of them, in the order in which they came; no line is read. */
    async stated(): Promise<StatedRoute[]> {
      const found = await inOrder(rows().select(['name', 'attributes'])).execute();
      return found.map(({ name, attributes, ...row }) => ({
        ...storedRow(row),
        name,
        attributes: JSON.parse(attributes) as Route['attributes'],
      }));
    },

    /** These of them that are still there, in any order. */
    async many(ids: readonly string[]) {
      return ids.length === 0 ? [] : (await routes().where('id', 'in', ids).execute()).map(storedRoute);
    },

    /** What ranking looks at, of all of them, in the order of creation. */
    async rows() {
      return (await inOrder(rows()).execute()).map(storedRow);
    },

    /** The same of these of them, in any order. */
    async rowsOf(ids: readonly string[]) {
      return ids.length === 0 ? [] : (await rows().where('id', 'in', ids).execute()).map(storedRow);
    },

    /** All of them by revision alone, in the order of creation. */
    revisions() {
      return inOrder(db.selectFrom('routes').select(['id', 'revision'])).execute();
    },

    /** Another number than before as soon as any route was added, changed or deleted. */
    async version() {
      return (await db.selectFrom('routesVersion').select('version').executeTakeFirstOrThrow()).version;
    },

    /** Ids of the routes measured by other methods, settings or tiles than these, or stored without their row. */
    async notMeasuredBy(method: string) {
      const query = db.selectFrom('routes').select('id');
      const found = await query
        .where((eb) => eb.or([eb('method', '!=', method), eb('ranking', '=', '')]))
        .execute();
      return found.map(({ id }) => id);
    },

    /** `null` where the route is gone or has another revision by now. */
    async replace(id: string, revision: number, route: RankedRoute, method: string) {
      const change = { ...columnsOf(route), method, revision: revision + 1, updatedAtMs: nowMs() };
      const query = db
        .updateTable('routes')
        .set(change)
        .where('id', '=', id)
        .where('revision', '=', revision);
      const row = await query.returningAll().executeTakeFirst();
      return row === undefined ? null : storedRoute(row);
    },

    delete: (id: string, revision: number | null) => deleteRow(db, 'routes', id, revision),
  };
}
