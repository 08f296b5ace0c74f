/** Puts the service together and lets it listen. */
import { type DestinationStream, type LevelWithSilent, pino } from 'pino';
import { type Context, openContext } from './app/context.ts';
import { DEMO_DATE, demoOn, loadDemo } from './app/demo.ts';
import { readBytes } from './app/files.ts';
import { eraseExpired, listCohorts } from './app/groups.ts';
import { remeasureRoutes } from './app/routes.ts';
import { sampleInThread } from './app/sample-in-thread.ts';
import type { Config } from './config.ts';
import { DESIGN, type Design, withChanges } from './design.ts';
import { EngineError } from './errors.ts';
import type { App } from './http/deps.ts';
import { LOG_SERIALIZERS } from './http/log.ts';
import { decodeText } from './ingest/decode.ts';
import { parseJson } from './ingest/json-text.ts';
import { message } from './message.ts';
import { buildApp } from './service.ts';
import { openStore, type Store } from './storage/store.ts';
import type { Surface } from './terrain/surface.ts';
import { openSurface } from './terrain/tile-set.ts';
import { messageText } from './text/errors.ts';
import { MS_PER_DAY } from './units.ts';

export interface Surroundings {
  readonly nowMs?: () => number;
  readonly logTo?: DestinationStream;
}

/** Requests under way get this long once the service is asked to stop. */
const GRACE_MS = 20_000;
const LOG_LEVELS: readonly LevelWithSilent[] = ['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent'];

async function designOf(settingsFile: string | null): Promise<Design> {
  if (settingsFile === null) return DESIGN;
  try {
    return withChanges(parseJson(decodeText(await readBytes(settingsFile)).text, 'bad-settings'));
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(settingsFile) : error;
  }
}

function logLevelOf(text: string): LevelWithSilent {
  const level = LOG_LEVELS.find((one) => one === text);
  if (level !== undefined) return level;
  const reason = message`KRUMMHOLZ_LOG is ${text}: give one of ${LOG_LEVELS.join(', ')}`;
  throw new EngineError('bad-settings', reason);
}

/** Loads the invented range; the page of its last cohort but one shows most. */
async function demoPage(context: Context, folder: string): Promise<string | null> {
  const ids = await loadDemo(context, folder);
  const id = ids.at(-2);
  return id === undefined ? null : `/cohorts/${id}?date=${DEMO_DATE}`;
}

/** Pages asked for before the service listens, and the time after which no other is (design). */
const WARM_COHORTS = 3;
const WARM_MS = 1500;
/** A cohort's page as it stands; then changes to the day, of which nothing is stored. */
const WARM_QUERIES = ['', '?start=05:00', '?deadline=12:00'];

/**
 * The cohorts of the latest trips are asked for first: their pages are made ready, and the program that makes pages is
 * well run in by then.
 */
async function warm(context: Context, app: App, nowMs: () => number): Promise<void> {
  const until = nowMs() + WARM_MS;
  const cohorts = await listCohorts(context, { limit: 1000, after: null });
  const latest = [...cohorts].sort((a, b) => (a.lastTripDate < b.lastTripDate ? 1 : -1));
  for (const query of WARM_QUERIES) {
    for (const { id } of latest.slice(0, WARM_COHORTS)) {
      if (nowMs() > until) return;
      await app.inject({ url: `/cohorts/${id}${query}`, headers: { host: 'localhost' } });
    }
  }
}

/** The store; where it cannot be opened the tiles are let go of. */
async function openOrClose(databaseFile: string, surface: Surface, nowMs: () => number): Promise<Store> {
  try {
    return openStore(databaseFile, { nowMs });
  } catch (error) {
    await surface.close();
    throw error;
  }
}

/** @throws EngineError on settings, tiles or a database that cannot be used. */
async function openParts(config: Config, surroundings: Surroundings, nowMs: () => number) {
  const unset = 'KRUMMHOLZ_DEM is not set: give the folder that holds the elevation tiles';
  if (config.demPaths.length === 0) throw new EngineError('dem-none', unset);
  const log = pino(
    { level: logLevelOf(config.logLevel), serializers: LOG_SERIALIZERS },
    // Standard error: standard output is for people.
    surroundings.logTo ?? pino.destination(2),
  );
  const design = await designOf(config.settingsFile);
  const { hosts, indexFile } = config.dem;
  const surface = await openSurface(config.demPaths, { indexFile, remote: { hosts, random: Math.random } });
  for (const { path, code, reason } of surface.refused) {
    log.warn({ path, code }, messageText(reason, { units: 'metric' }));
  }
  const store = await openOrClose(config.databaseFile, surface, nowMs);
  const sampling = sampleInThread();
  const context = openContext({
    store,
    ground: { surface, design },
    nowMs,
    keepDays: config.keepDays,
    sample: sampling.sample,
  });
  const demo = await demoOn(surface);
  const app = await buildApp({
    context,
    store,
    surface,
    publicUrl: config.publicUrl,
    log,
    ...(demo === null ? {} : { loadDemo: () => demoPage(context, demo) }),
  });
  return {
    app,
    context,
    log,
    /** Ends requests under way, empties the log of the store, closes everything. */
    async close(): Promise<void> {
      await app.close();
      // A full disk or another reader may refuse; the log is emptied at the next start then.
      await store.checkpoint().catch((error: unknown) => log.warn({ err: error }, 'the log was not emptied'));
      await store.close();
      await surface.close();
      await sampling.close();
    },
  };
}

type Parts = Awaited<ReturnType<typeof openParts>>;

/** @throws EngineError `bad-settings` where the port is taken */
async function listen({ app }: Parts, { host, port }: Config): Promise<string> {
  try {
    return await app.listen({ host, port });
  } catch (error) {
    const inUse = error instanceof Error && 'code' in error && error.code === 'EADDRINUSE';
    if (!inUse) throw error;
    const reason = message`port ${port} is in use: stop what uses it, or set KRUMMHOLZ_PORT`;
    throw new EngineError('bad-settings', reason);
  }
}

/** Erases what has expired, now and every day. Gives the timer. */
async function eraseDaily({ context, log }: Parts): Promise<NodeJS.Timeout> {
  async function sweep(): Promise<void> {
    try {
      const cohorts = await eraseExpired(context);
      if (cohorts > 0) log.info({ cohorts }, 'erased: their last trips lie longer ago than they are kept');
    } catch (error) {
      log.error({ err: error }, 'the daily erasure failed: it is tried again in a day');
    }
  }
  await sweep();
  const daily = setInterval(sweep, MS_PER_DAY);
  daily.unref();
  return daily;
}

/**
 * Opens the store and the tiles, listens, and measures again what was measured on other ground.
 * @throws EngineError on settings, tiles or a database that cannot be used.
 */
export async function startServer(config: Config, surroundings: Surroundings = {}) {
  const nowMs = surroundings.nowMs ?? Date.now;
  const parts = await openParts(config, surroundings, nowMs);
  const { app, context, log } = parts;
  const { level } = log;
  // Nobody has asked for it: the log does not tell of it as of requests.
  log.level = 'silent';
  // Slower first answers are no reason not to serve.
  const failed = await warm(context, app, nowMs).catch((error: unknown) => ({ err: error }));
  log.level = level;
  if (failed !== undefined) log.warn(failed, 'nothing was made ready');
  let daily: NodeJS.Timeout | undefined;
  let url: string;
  try {
    url = await listen(parts, config);
    daily = await eraseDaily(parts);
    // Only now: a start that finds the port taken must not measure the running service's routes on its own ground.
    const again = await remeasureRoutes(context);
    if (again > 0) log.info({ routes: again }, 'measured again: methods, settings or tiles have changed');
  } catch (error) {
    clearInterval(daily);
    await parts.close();
    throw error;
  }

  async function stop(): Promise<void> {
    clearInterval(daily);
    const overdue = setTimeout(() => app.server.closeAllConnections(), GRACE_MS);
    await parts.close().finally(() => clearTimeout(overdue));
  }

  let stopped: Promise<void> | null = null;
  return {
    url,
    /** Stops accepting, lets requests under way end, empties the log of the store, closes everything. */
    close(): Promise<void> {
      stopped ??= stop();
      return stopped;
    },
  };
}

export type RunningServer = Awaited<ReturnType<typeof startServer>>;

/** Serves until SIGTERM or SIGINT; a second signal ends the process at once. Resolves when everything is closed. */
export async function serveUntilStopped(config: Config, print: (text: string) => void): Promise<void> {
  const server = await startServer(config);
  print(
    `Krummholz listens on ${server.url}; open it in a browser; its API is described at ${server.url}/v1/openapi.json`,
  );
  await new Promise<void>((resolve) => {
    let wasAsked = false;
    const stop = (): void => {
      if (wasAsked) process.exit(1);
      wasAsked = true;
      resolve();
    };
    process.on('SIGTERM', stop);
    process.on('SIGINT', stop);
  });
  print('Stopping.');
  await server.close();
}
