/** Routes that are stored: sent, listed, changed, measured again, deleted. */

import { createHash } from 'node:crypto';
import { at } from '../array.ts';
import { EngineError } from '../errors.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import { cleanName } from '../ingest/names.ts';
import { checkRouteAttributes } from '../ingest/route-attributes.ts';
import { message } from '../message.ts';
import { lacksOf } from '../rank/route-lacks.ts';
import { hasOpenTreeline, rowOf } from '../rank/route-row.ts';
import type { Route } from '../route/describe-route.ts';
import { mostTreelineM } from '../route/treeline.ts';
import type { Page } from '../storage/context.ts';
import type { NamedRoute, RankedRoute, StoredRoute } from '../storage/routes.ts';
import { type Context, found, stale } from './context.ts';
import { type RouteFile, remeasured, routesOf } from './measure.ts';

export interface SentRoutes extends RouteFile {
  /** A name that wins over the file's; for a file with one route. */
  readonly name?: string | null;
}

/** A stored route that a file was laid over: what was stated before and what is now. */
interface ChangedRoute {
  readonly id: string;
  readonly name: string;
  readonly before: RouteAttributes;
  readonly now: RouteAttributes;
}

export interface AddedRoutes {
  readonly routes: readonly StoredRoute[];
  readonly created: number;
  readonly changed: readonly ChangedRoute[];
  /** Stored routes on the same line as a new one, which has another name. */
  readonly sameLine: readonly { readonly id: string; readonly name: string; readonly newName: string }[];
}

/** A route of which something is still to be stated: what, in words. */
export interface RouteToState {
  readonly id: string;
  readonly name: string;
  readonly lacks: readonly string[];
}

export const getRoute = async ({ store }: Context, id: string): Promise<StoredRoute> =>
  found(await store.routes.get(id), 'route');

/** Some of the stored routes, in the order asked for; those that are gone are left out. */
export async function getRoutes({ store }: Context, ids: readonly string[]): Promise<readonly StoredRoute[]> {
  const stored = new Map((await store.routes.many(ids)).map((one) => [one.id, one]));
  return ids.flatMap((id) => stored.get(id) ?? []);
}

export const listRoutes = ({ store }: Context, page: Page): Promise<readonly StoredRoute[]> =>
  store.routes.list(page);

/** All routes by name alone, in the order in which they came. */
export const namedRoutes = ({ rankings }: Context): Promise<readonly NamedRoute[]> => rankings.named();

/** The routes of which something is still to be stated, in the order in which they came. */
export async function routesToState({ store }: Context): Promise<readonly RouteToState[]> {
  return (await store.routes.stated()).flatMap(({ id, name, attributes, row }) => {
    // Where heights are missing, stating a treeline helps nothing yet.
    const isOpen = attributes.treelineM == null && row !== null && hasOpenTreeline(row);
    const lacks = lacksOf(attributes, isOpen);
    return lacks.length === 0 ? [] : [{ id, name, lacks }];
  });
}

/**
 * Reads, measures and stores files, all or nothing; a file sent before gives the routes it gave then. A route of the
 * same name on the same line as a stored one is that one: what is stated now is laid over what was, and what is
 * not stated now stays. By another name it is a route of its own, and `sameLine` names the one it lies on.
 */
export async function addRoutes(context: Context, files: readonly SentRoutes[]): Promise<AddedRoutes> {
  const { store, method } = context;
  const hashes = files.map(contentHash);
  const before = await Promise.all(hashes.map((hash) => store.routes.ofContent(hash)));
  if (before.every((routes) => routes !== null))
    return { routes: before.flat(), created: 0, changed: [], sameLine: [] };
  const read = [];
  const changed: ChangedRoute[] = [];
  const sameLine: AddedRoutes['sameLine'][number][] = [];
  // Two of one request are never laid over the same stored route: the second would lose what the first states.
  const taken = new Set<string>();
  for (const [i, file] of files.entries()) {
    const known = at(before, i);
    const routes = [];
    for (const sent of await measuredFile(context, file)) {
      const onLine = known === null ? await store.routes.onLine(sent.line) : [];
      const same = onLine.find(({ id, route: { name } }) => name === sent.name && !taken.has(id));
      if (same === undefined) {
        sameLine.push(...onLine.map(({ id, route: { name } }) => ({ id, name, newName: sent.name })));
        routes.push({ ...withRow(context, sent), inPlaceOf: null });
        continue;
      }
      taken.add(same.id);
      const now = await laidOver(context, same, sent);
      routes.push({ ...withRow(context, now), inPlaceOf: { id: same.id, revision: same.revision } });
      const { attributes } = same.route;
      if (JSON.stringify(attributes) !== JSON.stringify(now.attributes))
        changed.push({ id: same.id, name: now.name, before: attributes, now: now.attributes });
    }
    read.push({ contentHash: at(hashes, i), routes });
  }
  const added = await store.routes.add(read, method);
  return { ...added, changed, sameLine };
}

/**
 * Changes attributes by a JSON merge patch (RFC 7396) and measures again.
 * @throws EngineError `bad-attribute`; `precondition-failed` unless the route still has this revision.
 */
export async function patchRoute(
  context: Context,
  id: string,
  revision: number,
  patch: unknown,
): Promise<StoredRoute> {
  const stored = await getRoute(context, id);
  const changed = await restated(context, stored, statedAfter(stored.route.attributes, patch));
  const replaced = await context.store.routes.replace(
    id,
    revision,
    withRow(context, changed.route),
    changed.method,
  );
  if (replaced === null) throw stale('route');
  return replaced;
}

/** `revision` `null`: whichever it has. */
export async function deleteRoute(context: Context, id: string, revision: number | null): Promise<void> {
  await getRoute(context, id);
  if (!(await context.store.routes.delete(id, revision))) throw stale('route');
}

/** Measures the routes again that other methods, settings or tiles measured. Gives their number. */
export async function remeasureRoutes(context: Context): Promise<number> {
  const { store, ground, method } = context;
  const ids = await store.routes.notMeasuredBy(method);
  for (const id of ids) {
    const stored = await store.routes.get(id);
    if (stored === null) continue;
    const again = await remeasured(stored.route, stored.route.attributes, ground);
    await store.routes.replace(id, stored.revision, withRow(context, again), method);
  }
  return ids.length;
}

function contentHash({ bytes, attributes, name }: SentRoutes): string {
  const stated = JSON.stringify([attributes ?? null, name ?? null]);
  return createHash('sha256').update(bytes).update('\0').update(stated).digest('hex');
}

function renamed(routes: readonly Route[], name: string | null): readonly Route[] {
  if (name === null) return routes;
  const [route] = routes;
  if (route === undefined || routes.length > 1) {
    throw new EngineError(
      'bad-attribute',
      message`one name is given for a file with ${routes.length} routes: leave the name out, or split the file`,
      { pointer: '/name' },
    );
  }
  return [{ ...route, name, attributes: { ...route.attributes, name } }];
}

/** What is stored with what a file states laid over it; what the file leaves open stays, `null` too. */
function stating(stored: Route, sent: RouteAttributes): RouteAttributes {
  return mergePatch(stored.attributes, JSON.parse(JSON.stringify(sent, withoutNulls))) as RouteAttributes;
}

const withoutNulls = (_: string, value: unknown): unknown => (value === null ? undefined : value);

async function measuredFile({ ground }: Context, file: SentRoutes): Promise<readonly Route[]> {
  const name = file.name == null ? '' : cleanName(file.name, 'name');
  return renamed(await routesOf(file, ground), name === '' ? null : name);
}

const withRow = ({ ground }: Context, route: Route): RankedRoute => ({
  route,
  row: rowOf(route, ground.design),
});

/** Whether two statements of a route give the same measures: only where open ground begins is measured by what is stated. */
const measuresSame = (a: RouteAttributes, b: RouteAttributes): boolean =>
  (['treelineM', 'openAboveM'] as const).every((name) => (a[name] ?? null) === (b[name] ?? null));

/**
 * A stored route with other attributes.
 * @throws EngineError `bad-attribute` for a treeline, stated anew, above where trees grow
 */
async function restated({ ground, method }: Context, stored: StoredRoute, attributes: RouteAttributes) {
  // Good measures stay as they are where they can, whatever has become of the tiles.
  if (measuresSame(attributes, stored.route.attributes)) {
    const name = attributes.name ?? stored.route.name;
    return { route: { ...stored.route, attributes, name }, method: stored.method };
  }
  const { treelineM } = attributes;
  const mostM = mostTreelineM(stored.route.trailhead.latDeg);
  if (treelineM != null && treelineM > mostM) {
    throw new EngineError(
      'bad-attribute',
      message`The treeline of ${{ lengthM: treelineM }} lies above where trees grow at this latitude (${{ lengthM: Math.round(mostM) }} at most). Check its unit.`,
      { pointer: '/treelineM' },
    );
  }
  return { route: await remeasured(stored.route, attributes, ground), method };
}

/** A file's route in the place of the stored one on the same line: what is stated of either, measured as it is sent now. */
async function laidOver({ ground }: Context, { route: stored }: StoredRoute, sent: Route): Promise<Route> {
  const attributes = stating(stored, sent.attributes);
  const now = measuresSame(attributes, sent.attributes)
    ? { ...sent, attributes }
    : await remeasured(sent, attributes, ground);
  return { ...now, waypoints: sent.waypoints.length > 0 ? sent.waypoints : stored.waypoints };
}

/**
 * What is stated of a route after a merge patch.
 * @throws EngineError `bad-attribute`, `bad-text` or `name-too-long`, with the pointer.
 */
function statedAfter(stored: RouteAttributes, patch: unknown): RouteAttributes {
  const patched = checkRouteAttributes(mergePatch(stored, patch), '');
  const cleaned = patched.name == null ? null : cleanName(patched.name, '/name');
  // A name of nothing but blanks states none; null stays null.
  return cleaned === null ? patched : { ...patched, name: cleaned === '' ? null : cleaned };
}

/** RFC 7396 section 2: `null` removes a field, objects merge, everything else replaces. */
export function mergePatch(target: unknown, patch: unknown): unknown {
  if (!isObject(patch)) return patch;
  const merged = new Map(isObject(target) ? Object.entries(target) : []);
  for (const [key, value] of Object.entries(patch)) {
    if (value === null) merged.delete(key);
    else merged.set(key, mergePatch(merged.get(key), value));
  }
  return Object.fromEntries(merged);
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
