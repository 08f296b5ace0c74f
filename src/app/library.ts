/** The use cases over the store: what the service does, whoever asks. */
import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import type { Outing } from '../capability/outing.ts';
import { quantileMin } from '../capability/pace-model.ts';
import { type PacePicture, pacePicture } from '../capability/pace-picture.ts';
import { USUAL_KEEP_DAYS } from '../config.ts';
import { arrivalsAt } from '../day/arrivals.ts';
import { addDays } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import { type CohortInput, checkCohort, checkOuting, type OutingInput } from '../ingest/cohort-file.ts';
import { cleanName } from '../ingest/names.ts';
import type { SeasonRequest } from '../ingest/season-file.ts';
import { type LadderInput, type RouteLadder, routeLadder } from '../plan/route-ladder.ts';
import { type TrainingPlan, trainingPlan } from '../plan/training-plan.ts';
import { makeTripPlan, type TripPlan } from '../plan/trip-plan.ts';
import { explainedFitOf, type Fit } from '../rank/fit.ts';
import { type CohortRecord, type Readiness, readinessOf } from '../rank/readiness.ts';
import { lacksOf } from '../rank/route-lacks.ts';
import { hasOpenTreeline, ROW_COLUMNS, rowOf } from '../rank/route-row.ts';
import { VERDICTS, type Verdict } from '../rank/verdict.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Route } from '../route/describe-route.ts';
import { gathered } from '../route/map-frame.ts';
import type { ListCertainty } from '../sampling/acceptability.ts';
import type { SeasonBoard, SeasonCohort } from '../season/season.ts';
import type { Cohort, StoredCohort } from '../storage/cohorts.ts';
import type { Page } from '../storage/context.ts';
import { dayOf, keptFrom } from '../storage/last-trip.ts';
import type { KeptOuting, StoredOuting } from '../storage/outings.ts';
import type { RankedRoute, StoredRoute } from '../storage/routes.ts';
import type { Store } from '../storage/store.ts';
import { MIN_PER_H, MS_PER_MIN, type UnitSystem } from '../units.ts';
import { predictionRecordView } from '../views/after-view.ts';
import { readinessView } from '../views/readiness-view.ts';
import { METHOD_VERSION } from '../views/shortlist-view.ts';
import { comparedDay, seasonRecord } from './after-day.ts';
import {
  checkDate,
  fitFor,
  type Ground,
  homeOf,
  outingByHand,
  type RouteFile,
  recordedDay,
  routesOf,
  type WhatIf,
  whatIf,
} from './engine.ts';
import { type GroundMap, groundMaps, NEAR_DEG } from './ground-maps.ts';
import { nearestTo } from './known-routes.ts';
import { type ListedRoute, listedRoutes, type NamedMove, namedMoves } from './listed-routes.ts';
import { mergePatch } from './merge-patch.ts';
import { oneAtATime } from './one-at-a-time.ts';
import { type DrawOrder, type LibraryRanking, type LibraryTable, rankedLibrary } from './ranked-library.ts';
import { remeasured } from './remeasure.ts';
import { seasonBoard, seasonQuestion } from './season-board.ts';
import { solveBoard } from './solve-board.ts';
import { statedAfter } from './stated-after.ts';
import { toldFits } from './told-fits.ts';

export interface LibraryParts {
  readonly store: Store;
  readonly ground: Ground;
  readonly nowMs: () => number;
  /** A cohort is erased so many days after its last trip. */
  readonly keepDays?: number;
  /** How an order is drawn; missing: here, while everything else waits. */
  readonly draw?: DrawOrder;
}

export interface SentRoutes extends RouteFile {
  /** A name that wins over the file's; for a file with one route. */
  readonly name?: string | null;
}

/** A recorded day as it is sent: the file, and what a track cannot say. */
export interface SentOuting {
  readonly bytes: Uint8Array;
  readonly mediaType: string | null;
  readonly date: string;
  readonly rockClass: string | null;
  readonly members: readonly string[] | null;
  /** What people tell of the day, as in `OutingInput`. */
  readonly turnedBecause?: string | null;
  readonly nearMisses?: readonly string[] | null;
  /** The stored route that was planned for the day; `null`: no plan to compare with. */
  readonly routeId?: string | null;
}

export interface ShortlistQuery {
  readonly units: UnitSystem;
  /** Entries at most. */
  readonly limit: number;
  /** Only these; `null`: all. */
  readonly verdicts: readonly Verdict[] | null;
  /** Entries after this rank. */
  readonly afterRank: number;
}

export interface TrainingQuery {
  readonly date: string;
  /** Training starts after this day; `null`: after the day of the clock. */
  readonly from: string | null;
  readonly units: UnitSystem;
}

export interface TripPlanQuery {
  readonly date: string;
  readonly units: UnitSystem;
  /** `HH:MM`, chosen by the leader; `null`: the start worked out. */
  readonly start: string | null;
  /** `null`: one is suggested. */
  readonly spareDate: string | null;
  /** Whether a warm day is forecast; `null`: not known. */
  readonly warm: boolean | null;
  /** Training starts after this day; `null`: after the day of the clock. */
  readonly today: string | null;
}

export interface StoredFit {
  readonly id: string;
  readonly fit: Fit;
}

export interface RankedPage {
  readonly record: CohortRecord;
  readonly fits: readonly StoredFit[];
  /** The rank after which the next page begins; `null` on the last. */
  readonly nextAfterRank: number | null;
}

/** The same for a question asked otherwise: the record is the one asked about. */
export interface WhatIfPage extends RankedPage {
  readonly asked: WhatIf;
  readonly moved: readonly NamedMove[];
}

/** Some routes of a ranking in words. */
export interface ToldRoutes {
  readonly fits: readonly StoredFit[];
  readonly certainty: ListCertainty;
  /** What moved; empty where no change was asked for. */
  readonly moved: readonly NamedMove[];
}

/** A whole ranking in figures. */
export interface BrowsedRoutes {
  readonly cohort: StoredCohort;
  /** All routes, the first first. */
  readonly listed: readonly ListedRoute[];
  /**
   * Tells some of them in words. `meanwhile` gets these while it is still drawn how sure the order is, their `certainty`
   * `null`: what takes time is best made of them there.
   */
  tell(
    routes: readonly ListedRoute[],
    units: UnitSystem,
    meanwhile: (fits: readonly StoredFit[]) => void,
  ): Promise<ToldRoutes>;
}

/** No clock on Earth is further ahead of UTC. */
const EASTERNMOST_MS = 14 * MIN_PER_H * MS_PER_MIN;

/** So many season boards may wait for their turn (design). */
const BOARDS_WAITING = 4;

/** A stored route that a file was laid over: what was stated before and what is now. */
export interface ChangedRoute {
  readonly id: string;
  readonly name: string;
  readonly before: RouteAttributes;
  readonly now: RouteAttributes;
}

export interface AddedRoutes {
  readonly routes: readonly StoredRoute[];
  readonly created: number;
  readonly changed: readonly ChangedRoute[];
  /** Stored routes on the same line as a new one of another name, `of`. */
  readonly beside: readonly { readonly id: string; readonly name: string; readonly of: string }[];
}

/** A route of which something is still to be stated: what, in words. */
export interface RouteToState {
  readonly id: string;
  readonly name: string;
  readonly lacks: readonly string[];
}

export type Library = ReturnType<typeof openLibrary>;

function found<T>(what: T | null, name: string): T {
  if (what === null) throw new EngineError('not-found', `there is no such ${name}`);
  return what;
}

/** A conditional write met no row: it is gone, or has another revision by now. */
function stale(name: string): EngineError {
  return new EngineError(
    'precondition-failed',
    `the ${name} has changed or is gone: fetch it again and repeat`,
  );
}

/** Names what measures depend on beside the line: methods, settings and tiles. Another name: measure again. */
function methodOf({ surface, design }: Ground): string {
  const tiles = surface.sources.map(({ path, notes: _, ...header }) =>
    // By name: a header that was kept says the same in another order.
    Object.entries({ ...header, file: basename(path) }).sort(([a], [b]) => (a < b ? -1 : 1)),
  );
  const hash = createHash('sha256').update(JSON.stringify([METHOD_VERSION, ROW_COLUMNS, design, tiles]));
  return `${METHOD_VERSION}-${hash.digest('hex').slice(0, 16)}`;
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
      `one name is given for a file with ${routes.length} routes: leave the name out, or split the file`,
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

function keptCohort({ outings: _, ...cohort }: CohortInput): Cohort {
  return cohort;
}

/** What is told of a day, as it is kept: only what says something. */
function told({
  turnedBecause,
  nearMisses,
}: Pick<OutingInput, 'turnedBecause' | 'nearMisses'>): Pick<KeptOuting, 'turnedBecause' | 'nearMisses'> {
  const misses = nearMisses?.filter((text) => text !== '') ?? [];
  return {
    ...(turnedBecause == null || turnedBecause === '' ? {} : { turnedBecause }),
    ...(misses.length === 0 ? {} : { nearMisses: misses }),
  };
}

export function openLibrary({ store, ground, nowMs, keepDays = USUAL_KEEP_DAYS, draw }: LibraryParts) {
  const method = methodOf(ground);
  const ranked = rankedLibrary(store.routes, draw);
  const fitsOf = toldFits(store.routes);
  const { design } = ground;
  const inTurn = oneAtATime(BOARDS_WAITING);
  const mapOfRoutes = groundMaps(ground.surface);

  const route = async (id: string) => found(await store.routes.get(id), 'route');
  const cohort = async (id: string) => found(await store.cohorts.get(id), 'cohort');

  async function record(stored: StoredCohort): Promise<CohortRecord> {
    const outings = await store.outings.all(stored.id);
    return { cohort: stored.cohort, outings: outings.map(({ outing }) => outing) };
  }

  /** A day asked about keeps a cohort's data. Nothing is written, or waited for, where a later one does so already. */
  async function noteTrip({ id, lastTripDate }: StoredCohort, date: string): Promise<void> {
    const from = keptFrom(date, nowMs());
    if (from > lastTripDate) await store.cohorts.noteTrip(id, from);
  }

  function dated(outing: Outing): Outing {
    const latest = dayOf(nowMs() + EASTERNMOST_MS);
    if (outing.date <= latest) return outing;
    return { ...outing, notes: [...outing.notes, { code: 'date-ahead', values: { date: outing.date } }] };
  }

  /** The stored routes that a plan of one looks through: all others, or the nearest of many. */
  async function knownBeside({ id, route: of }: StoredRoute, { cohort: group }: StoredCohort) {
    const near = nearestTo(homeOf(group) ?? of.trailhead, await ranked.tableNow(design), id);
    const stored = new Map((await store.routes.many(near)).map((one) => [one.id, one.route]));
    return near.flatMap((one) => stored.get(one) ?? []);
  }

  /** What a training plan and a ladder are asked: the route to lead to, and all that is known beside it. */
  async function trainingQuestion(
    cohortId: string,
    routeId: string,
    { date, from, units }: TrainingQuery,
  ): Promise<LadderInput> {
    const of = await cohort(cohortId);
    await noteTrip(of, checkDate(date));
    const stored = await route(routeId);
    return {
      target: stored.route,
      record: await record(of),
      today: from ?? dayOf(nowMs()),
      tripDate: date,
      routes: await knownBeside(stored, of),
      design,
      units,
    };
  }

  /** One page of a ranking, in words. */
  async function pageOf(
    table: LibraryTable,
    ranking: LibraryRanking,
    asked: WhatIf,
    query: ShortlistQuery,
  ): Promise<Pick<RankedPage, 'fits' | 'nextAfterRank'>> {
    const { order, verdicts } = ranking;
    const wanted: number[] = [];
    for (let rank = query.afterRank + 1; rank <= order.length && wanted.length <= query.limit; rank += 1) {
      const verdict = VERDICTS[verdicts[order[rank - 1] ?? 0] ?? 0];
      if (query.verdicts === null || (verdict !== undefined && query.verdicts.includes(verdict))) {
        wanted.push(rank);
      }
    }
    const page = wanted.slice(0, query.limit);
    const fits = await inWords(table, ranking, asked, page, query.units);
    return { fits, nextAfterRank: wanted.length > page.length ? (page.at(-1) ?? null) : null };
  }

  /** The routes of some ranks in words, in the order given. */
  async function inWords(
    table: LibraryTable,
    ranking: LibraryRanking,
    asked: WhatIf,
    ranks: readonly number[],
    units: UnitSystem,
    meanwhile: (fits: readonly StoredFit[]) => void = () => {},
  ): Promise<readonly StoredFit[]> {
    let readiness: Readiness | null = null;
    const tell = (of: Route) => {
      readiness ??= readinessOf(asked);
      return explainedFitOf(of, asked, readiness, units);
    };
    return fitsOf(table, ranking, ranks, units, tell, meanwhile);
  }

  const withRow = (measuredRoute: Route): RankedRoute => ({
    route: measuredRoute,
    row: rowOf(measuredRoute, design),
  });

  /** A stored route with other attributes. */
  async function restated(stored: StoredRoute, attributes: RouteAttributes) {
    // Treeline alone changes what is measured. Anything else leaves good measures as they are, whatever has become
    // of the tiles.
    if ((attributes.treelineM ?? null) === (stored.route.attributes.treelineM ?? null)) {
      const name = attributes.name ?? stored.route.name;
      return { route: { ...stored.route, attributes, name }, method: stored.method };
    }
    return { route: await remeasured(stored.route, attributes, ground), method };
  }

  /** A file's route in the place of the stored one on the same line: what is stated of either, measured as it is sent now. */
  async function laidOver({ route: stored }: StoredRoute, sent: Route): Promise<Route> {
    const attributes = stating(stored, sent.attributes);
    const isMeasured = (attributes.treelineM ?? null) === (sent.attributes.treelineM ?? null);
    const now = isMeasured ? { ...sent, attributes } : await remeasured(sent, attributes, ground);
    return { ...now, waypoints: sent.waypoints.length > 0 ? sent.waypoints : stored.waypoints };
  }

  async function measuredFile(file: SentRoutes): Promise<readonly Route[]> {
    const name = file.name == null ? '' : cleanName(file.name, 'name');
    return renamed(await routesOf(file, ground), name === '' ? null : name);
  }

  return {
    design,

    /** The day of the clock in UTC, `YYYY-MM-DD`. */
    today: (): string => dayOf(nowMs()),

    /**
     * Reads, measures and stores files, all or nothing; a file sent before gives the routes it gave then. A route of the
     * same name on the same line as a stored one is that one: what is stated now is laid over what was, and what is
     * not stated now stays. By another name it is a route of its own, and `beside` names the one it lies on.
     */
    async addRoutes(files: readonly SentRoutes[]): Promise<AddedRoutes> {
      const hashes = files.map(contentHash);
      const before = await Promise.all(hashes.map((hash) => store.routes.ofContent(hash)));
      if (before.every((routes) => routes !== null))
        return { routes: before.flat(), created: 0, changed: [], beside: [] };
      const read = [];
      const changed: ChangedRoute[] = [];
      const beside: AddedRoutes['beside'][number][] = [];
      // Two of one request are never laid over the same stored route: the second would lose what the first states.
      const taken = new Set<string>();
      for (const [i, file] of files.entries()) {
        const known = before[i] ?? null;
        const routes = [];
        for (const sent of await measuredFile(file)) {
          const onLine = known === null ? await store.routes.onLine(sent.line) : [];
          const same = onLine.find(({ id, route: { name } }) => name === sent.name && !taken.has(id));
          if (same === undefined) {
            beside.push(...onLine.map(({ id, route: { name } }) => ({ id, name, of: sent.name })));
            routes.push({ ...withRow(sent), inPlaceOf: null });
            continue;
          }
          taken.add(same.id);
          const now = await laidOver(same, sent);
          routes.push({ ...withRow(now), inPlaceOf: { id: same.id, revision: same.revision } });
          const { attributes } = same.route;
          if (JSON.stringify(attributes) !== JSON.stringify(now.attributes))
            changed.push({ id: same.id, name: now.name, before: attributes, now: now.attributes });
        }
        read.push({ contentHash: hashes[i] ?? '', routes });
      }
      const added = await store.routes.add(read, method);
      return { ...added, changed, beside };
    },

    getRoute: route,

    listRoutes: (page: Page) => store.routes.list(page),

    /** Changes with methods, settings and tiles: what was drawn from the ground is drawn again then. */
    groundVersion: method,

    /** A route with the ground around it, for its map; `map` `null`: its line has no point. */
    async mapOf(id: string): Promise<{ readonly route: StoredRoute; readonly map: GroundMap | null }> {
      const stored = await route(id);
      return { route: stored, map: await mapOfRoutes([stored]) };
    },

    /**
     * The first `most` routes with the ground around them; `map` `null`: none, too many, or one is too long. Where they lie too
     * far apart for one map, `strays` are those that are not on it.
     */
    async mapOfAll(most: number): Promise<{
      readonly routes: readonly StoredRoute[];
      readonly strays: readonly StoredRoute[];
      readonly map: GroundMap | null;
    }> {
      const all = await store.routes.list({ limit: most + 1, after: null });
      if (all.length > most) return { routes: all.slice(0, most), strays: [], map: null };
      const map = await mapOfRoutes(all);
      if (map !== null) return { routes: all, strays: [], map };
      const { near, far } = gathered(all, NEAR_DEG);
      const ofMost = far.length === 0 ? null : await mapOfRoutes(near);
      return ofMost === null
        ? { routes: all, strays: [], map: null }
        : { routes: near, strays: far, map: ofMost };
    },

    /**
     * Changes attributes by a JSON merge patch (RFC 7396) and measures again.
     * @throws EngineError `bad-attribute`; `precondition-failed` unless the route still has this revision.
     */
    async patchRoute(id: string, revision: number, patch: unknown): Promise<StoredRoute> {
      const stored = await route(id);
      const changed = await restated(stored, statedAfter(stored.route.attributes, patch));
      const replaced = await store.routes.replace(id, revision, withRow(changed.route), changed.method);
      if (replaced === null) throw stale('route');
      return replaced;
    },

    /** `revision` `null`: whichever it has. */
    async deleteRoute(id: string, revision: number | null): Promise<void> {
      await route(id);
      if (!(await store.routes.delete(id, revision))) throw stale('route');
    },

    /** Measures the routes again that other methods, settings or tiles measured. Gives their number. */
    async refresh(): Promise<number> {
      const ids = await store.routes.notMeasuredBy(method);
      for (const id of ids) {
        const stored = await store.routes.get(id);
        if (stored === null) continue;
        const again = await remeasured(stored.route, stored.route.attributes, ground);
        await store.routes.replace(id, stored.revision, withRow(again), method);
      }
      return ids.length;
    },

    /** Stores a cohort; `outings` in it may hold records entered by hand only. */
    async addCohort(value: unknown): Promise<StoredCohort> {
      const checked = checkCohort(value);
      const outings = (checked.outings ?? []).map((outing, i) => {
        if (outing.track == null) return { ...dated(outingByHand(outing)), ...told(outing) };
        throw new EngineError(
          'bad-cohort',
          `the outing at /outings/${i} names a track: leave it out here and send its GPX file to the cohort’s outings`,
          { pointer: `/outings/${i}/track` },
        );
      });
      return store.cohorts.add(keptCohort(checked), outings);
    },

    getCohort: cohort,

    listCohorts: (page: Page) => store.cohorts.list(page),

    /** @throws EngineError `bad-cohort`; `precondition-failed` unless the cohort still has this revision. */
    async putCohort(id: string, revision: number, value: unknown): Promise<StoredCohort> {
      await cohort(id);
      const checked = checkCohort(value);
      if (checked.outings != null && checked.outings.length > 0) {
        throw new EngineError(
          'bad-cohort',
          'outings are not changed here: leave them out, and add or delete them one by one',
          { pointer: '/outings' },
        );
      }
      const kept = await store.cohorts.replace(id, revision, keptCohort(checked));
      if (kept === null) throw stale('cohort');
      await store.checkpoint();
      return kept;
    },

    /** Erases a cohort and its outings; nothing of them is left in the database or its log. */
    async deleteCohort(id: string, revision: number | null): Promise<void> {
      await cohort(id);
      if (!(await store.cohorts.delete(id, revision))) throw stale('cohort');
      await store.checkpoint();
    },

    /** The day after which a cohort's data are erased. */
    eraseAfter: ({ lastTripDate }: StoredCohort): string => addDays(lastTripDate, keepDays),

    /** Erases the cohorts whose last trip lies longer ago than the program keeps them. Gives their number. */
    async eraseExpired(): Promise<number> {
      const erased = await store.cohorts.deleteLastTripBefore(addDays(dayOf(nowMs()), -keepDays));
      // Also where none was: an earlier erasure may not have come to its end, on a full disk.
      await store.checkpoint();
      return erased;
    },

    /** Everything that is stored of a cohort. */
    async exportCohort(id: string): Promise<{
      readonly cohort: StoredCohort;
      readonly outings: readonly StoredOuting[];
    }> {
      return { cohort: await cohort(id), outings: await store.outings.all(id) };
    },

    /** Erases one label from a cohort and its outings; nothing of it is left in the database or its log. */
    async eraseMember(cohortId: string, label: string): Promise<void> {
      if (!(await store.cohorts.eraseMember(cohortId, label))) found(null, 'member');
      await store.checkpoint();
    },

    /** Stores a day entered by hand. */
    async addOutingByHand(cohortId: string, value: unknown): Promise<StoredOuting> {
      const { cohort: of } = await cohort(cohortId);
      const input = checkOuting(value, of.members ?? null);
      if (input.track != null) {
        throw new EngineError('bad-outing', 'an outing in JSON has no track: send the GPX file itself', {
          pointer: '/track',
        });
      }
      const outing = { ...dated(outingByHand(input)), ...told(input) };
      return found(await store.outings.add(cohortId, outing), 'cohort');
    },

    /**
     * Measures a recorded day and stores what was learned, and how the plan of its route went; the track itself is
     * dropped.
     */
    async addOutingOfTrack(cohortId: string, sent: SentOuting): Promise<StoredOuting> {
      const of = await cohort(cohortId);
      const { date, rockClass, members, turnedBecause, nearMisses } = sent;
      const input = checkOuting(
        { date: checkDate(date), track: 'body', rockClass, members, turnedBecause, nearMisses },
        of.cohort.members ?? null,
      );
      const planned = sent.routeId == null ? null : await route(sent.routeId);
      const day = await recordedDay(sent, { date, rockClass, members }, ground, homeOf(of.cohort));
      const compared =
        planned === null
          ? {}
          : {
              planned: {
                routeId: planned.id,
                ...comparedDay(planned.route, await record(of), date, day, design),
              },
            };
      // The times of the plan beside it rest on the route's tiles too.
      const attribution = attributionOf(planned === null ? [day.outing] : [day.outing, planned.route]);
      const outing = { ...dated(day.outing), ...told(input), ...compared, attribution };
      return found(await store.outings.add(cohortId, outing), 'cohort');
    },

    async getOuting(cohortId: string, id: string): Promise<StoredOuting> {
      return found(await store.outings.get(cohortId, id), 'outing');
    },

    async listOutings(cohortId: string, page: Page): Promise<readonly StoredOuting[]> {
      await cohort(cohortId);
      return store.outings.list(cohortId, page);
    },

    async deleteOuting(cohortId: string, id: string): Promise<void> {
      if (!(await store.outings.delete(cohortId, id))) found(null, 'outing');
      await store.checkpoint();
    },

    /** Ranks every route for a cohort on a date, and gives one page of the ranking. */
    async shortlist(cohortId: string, date: string, query: ShortlistQuery): Promise<RankedPage> {
      const of = await cohort(cohortId);
      await noteTrip(of, checkDate(date));
      const asked = { record: await record(of), date, design };
      const table = await ranked.tableNow(design);
      const ranking = ranked.rankingFor(table, asked.record, date, design);
      return { record: asked.record, ...(await pageOf(table, ranking, asked, query)) };
    },

    /**
     * The whole ranking in figures. With changes (`null`: none) it is the ranking as it would be; nothing is stored then.
     */
    async browse(cohortId: string, date: string, changes: unknown): Promise<BrowsedRoutes> {
      const of = await cohort(cohortId);
      const before: WhatIf = { record: await record(of), date: checkDate(date), design };
      const asked = changes === null ? before : whatIf(before.record, date, changes, design);
      if (changes === null) await noteTrip(of, date);
      const table = await ranked.tableNow(design);
      const ranking = ranked.rankingFor(table, asked.record, asked.date, asked.design);
      return {
        cohort: of,
        listed: listedRoutes(table, ranking),
        async tell(routes, units, meanwhile) {
          const ranks = routes.map(({ rank }) => rank);
          const fits = await inWords(table, ranking, asked, ranks, units, meanwhile);
          const certainty = await ranking.certainty;
          const unchanged = changes === null ? null : ranked.rankingFor(table, before.record, date, design);
          return { fits, certainty, moved: unchanged === null ? [] : namedMoves(table, unchanged, ranking) };
        },
      };
    },

    /** All routes by name alone, in the order in which they came. */
    namedRoutes: ranked.named,

    /** The routes of which something is still to be stated, in the order in which they came. */
    async routesToState(): Promise<readonly RouteToState[]> {
      return (await store.routes.stated()).flatMap(({ id, name, attributes, row }) => {
        // Where heights are missing, stating a treeline helps nothing yet.
        const isOpen = attributes.treelineM == null && row !== null && hasOpenTreeline(row);
        const lacks = lacksOf(attributes, isOpen);
        return lacks.length === 0 ? [] : [{ id, name, lacks }];
      });
    },

    /** Some of the stored routes, in the order asked for; those that are gone are left out. */
    async routesOf(ids: readonly string[]): Promise<readonly StoredRoute[]> {
      const stored = new Map((await store.routes.many(ids)).map((one) => [one.id, one]));
      return ids.flatMap((id) => stored.get(id) ?? []);
    },

    /** The shortlist as it would be with some changes, and what moved. Nothing is stored. */
    async whatIf(
      cohortId: string,
      date: string,
      changes: unknown,
      query: ShortlistQuery,
    ): Promise<WhatIfPage> {
      const of = await cohort(cohortId);
      const before = { record: await record(of), date: checkDate(date), design };
      const asked = whatIf(before.record, date, changes, design);
      const table = await ranked.tableNow(design);
      const ranking = ranked.rankingFor(table, asked.record, asked.date, asked.design);
      return {
        record: asked.record,
        asked,
        ...(await pageOf(table, ranking, asked, query)),
        moved: namedMoves(table, ranked.rankingFor(table, before.record, date, design), ranking),
      };
    },

    /** What a cohort has shown on a date, with who limits it, and what its predictions were worth: for its leaders. */
    async shown(cohortId: string, date: string) {
      const of = await record(await cohort(cohortId));
      const view = readinessView(of, checkDate(date), design);
      return { ...view, record: predictionRecordView(seasonRecord(of, date, design)) };
    },

    /** What a cohort's outings up to a date have made of the rule of the trade, to be drawn. No label is in it. */
    async pacePicture(cohortId: string, date: string): Promise<PacePicture> {
      const { theirs, weightOf } = readinessOf({
        record: await record(await cohort(cohortId)),
        date: checkDate(date),
        design,
      });
      return pacePicture(theirs, design, weightOf);
    },

    /** One route for a cohort on a date. */
    async fit(
      cohortId: string,
      routeId: string,
      date: string,
      units: UnitSystem,
    ): Promise<{ readonly record: CohortRecord } & StoredFit> {
      const of = await cohort(cohortId);
      await noteTrip(of, checkDate(date));
      const stored = await route(routeId);
      const shown = await record(of);
      return { record: shown, id: routeId, fit: fitFor(stored.route, shown, date, design, units) };
    },

    /** The day on one route in full: numbers for programs, pages for people. No label of a member is in it. */
    async tripPlan(
      cohortId: string,
      routeId: string,
      query: TripPlanQuery,
    ): Promise<{ readonly cohort: StoredCohort; readonly route: StoredRoute; readonly plan: TripPlan }> {
      const { date, units, start, spareDate, warm, today } = query;
      const of = await cohort(cohortId);
      await noteTrip(of, checkDate(date));
      const stored = await route(routeId);
      const going = { ...(await record(of)), start };
      const plan = makeTripPlan({
        fit: fitFor(stored.route, going, date, design, units),
        record: going,
        date,
        today: today ?? dayOf(nowMs()),
        known: await knownBeside(stored, of),
        spareDate,
        warm,
        design,
        units,
      });
      return { cohort: of, route: stored, plan };
    },

    /**
     * Minutes after the start at which the group is at places along a route, middle of their doubt, stops and meals
     * counted; `null`: not all heights under the line are known.
     */
    async minutesAlong(
      cohortId: string,
      routeId: string,
      date: string,
      distancesM: readonly number[],
    ): Promise<readonly number[] | null> {
      const of = await record(await cohort(cohortId));
      const { route: measured } = await route(routeId);
      if (measured.heightsMissing) return null;
      const { pace } = readinessOf({ record: of, date: checkDate(date), design });
      const places = distancesM.map((distanceM) => ({ kind: 'along', distanceM }));
      return arrivalsAt(places, measured, pace, design).map(({ after }) => quantileMin(after, 0.5));
    },

    /** The training for one route alone; `from` `null`: it starts after the day of the clock. */
    async trainingPlan(cohortId: string, routeId: string, query: TrainingQuery): Promise<TrainingPlan> {
      const { target, ...question } = await trainingQuestion(cohortId, routeId, query);
      return trainingPlan({ route: target, ...question });
    },

    /** The known routes that lead a cohort to one of them, as `routeLadder`; at most the 200 nearest are looked at. */
    async ladder(cohortId: string, targetId: string, query: TrainingQuery): Promise<RouteLadder> {
      return routeLadder(await trainingQuestion(cohortId, targetId, query));
    },

    /** The board of a season of stored cohorts; without `routes` every stored one is looked at. Nothing is stored. */
    async seasonBoard(asked: SeasonRequest, units: UnitSystem): Promise<SeasonBoard> {
      const cohorts: SeasonCohort[] = [];
      for (const { id, notOn, ledBy, ownVehicles } of asked.cohorts) {
        const of = await cohort(id);
        cohorts.push({
          record: await record(of),
          id,
          notOn: new Set(notOn ?? []),
          ledBy: ledBy ?? [],
          hasOwnVehicles: ownVehicles === true,
        });
      }
      const stored =
        asked.routes == null ? await store.routes.all() : await Promise.all(asked.routes.map(route));
      const question = seasonQuestion(asked, {
        routes: stored.map((one) => ({ route: one.route, id: one.id })),
        cohorts,
      });
      const last = question.dates.at(-1);
      for (const { id } of asked.cohorts) if (last !== undefined) await noteTrip(await cohort(id), last);
      return inTurn(() => seasonBoard(question, design, units, { solve: solveBoard }));
    },
  };
}
