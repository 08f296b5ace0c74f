import { EngineError } from './errors.ts';

/** Where elevation tiles may come from, and where their headers are remembered. */
export interface DemConfig {
  /** Hosts that may be asked for tiles, with the port where it is not the usual one. */
  readonly hosts: readonly string[];
  /** `null`: nowhere. */
  readonly indexFile: string | null;
}

/** Settings of the service, read from the environment once and passed in. */
export interface Config {
  readonly host: string;
  readonly port: number;
  readonly databaseFile: string;
  /** Files, folders, catalogues or addresses of elevation tiles. */
  readonly demPaths: readonly string[];
  readonly dem: DemConfig;
  /** A file with changes to the design settings; `null`: none. */
  readonly settingsFile: string | null;
  /** Base of the links in answers, without a slash at the end. */
  readonly publicUrl: string;
  readonly logLevel: string;
  /** A cohort is erased so many days after its last trip. */
  readonly keepDays: number;
}

/** Minors: a cohort's data go 90 days after its last trip unless the program sets another time. */
export const USUAL_KEEP_DAYS = 90;

/** One entry of KRUMMHOLZ_DEM: an address, whose colons do not part entries, or a path. */
const DEM_PATH = /https?:\/\/(?:\[[^\]]*\]|[^/:]+)(?::\d+)?\/[^:]*|[^:]+/g;

type Env = Readonly<Record<string, string | undefined>>;

/**
 * The cache lies outside the tiles' own folder: `KRUMMHOLZ_CACHE`, else where the system keeps caches.
 * @throws EngineError `bad-settings` on a host that is none.
 */
export function readDemConfig(env: Env): DemConfig {
  const hosts = (env.KRUMMHOLZ_DEM_HOSTS ?? '').split(/[\s,]+/).filter((host) => host !== '');
  const odd = hosts.find((host) => !/^(\[[\da-f:]+\]|[a-z\d.-]+)(:\d{1,5})?$/.test(host));
  if (odd !== undefined)
    throw new EngineError(
      'bad-settings',
      `KRUMMHOLZ_DEM_HOSTS names ${odd}: give hosts in small letters with commas between, such as tiles.example.org`,
    );
  const system = env.XDG_CACHE_HOME ?? env.LOCALAPPDATA ?? (env.HOME ? `${env.HOME}/.cache` : undefined);
  const folder = env.KRUMMHOLZ_CACHE ?? (system ? `${system}/krummholz` : '');
  return { hosts, indexFile: folder === '' ? null : `${folder}/elevation-index.json` };
}

const LOOPBACK = new Set(['127.0.0.1', '::1', 'localhost']);

/**
 * @throws EngineError `bad-settings` on an unusable value. The service has no accounts yet, so it binds only to a
 * loopback address.
 */
export function readConfig(env: Readonly<Record<string, string | undefined>>): Config {
  const host = env.KRUMMHOLZ_HOST ?? '127.0.0.1';
  if (!LOOPBACK.has(host)) {
    throw new EngineError(
      'bad-settings',
      `KRUMMHOLZ_HOST is ${host}: until there are accounts the service listens on this machine only; leave it out or use 127.0.0.1`,
    );
  }
  const portText = env.KRUMMHOLZ_PORT ?? '8787';
  const port = Number(portText);
  if (!/^\d{1,5}$/.test(portText) || port > 65535) {
    throw new EngineError('bad-settings', `KRUMMHOLZ_PORT is ${portText}: give a port number, 0 to 65535`);
  }
  const keepText = env.KRUMMHOLZ_KEEP_DAYS ?? String(USUAL_KEEP_DAYS);
  const keepDays = Number(keepText);
  if (!/^\d{1,4}$/.test(keepText) || keepDays < 1 || keepDays > 3650) {
    throw new EngineError(
      'bad-settings',
      `KRUMMHOLZ_KEEP_DAYS is ${keepText}: give a number of days, 1 to 3650`,
    );
  }
  const stated = env.KRUMMHOLZ_PUBLIC_URL;
  if (stated !== undefined && !/^https?:\/\/[^\s/?#]+(\/[^\s?#]*)?$/.test(stated)) {
    throw new EngineError(
      'bad-settings',
      `KRUMMHOLZ_PUBLIC_URL is ${stated}: give an address such as http://127.0.0.1:8787`,
    );
  }
  const databaseFile = env.KRUMMHOLZ_DB ?? 'krummholz.db';
  if (databaseFile === ':memory:' || databaseFile === '') {
    throw new EngineError(
      'bad-settings',
      'KRUMMHOLZ_DB must name a file: what is kept in memory is lost on stop',
    );
  }
  const shownHost = host === '::1' ? '[::1]' : host;
  return Object.freeze({
    host,
    port,
    databaseFile,
    demPaths: (env.KRUMMHOLZ_DEM ?? '').match(DEM_PATH) ?? [],
    dem: readDemConfig(env),
    settingsFile: env.KRUMMHOLZ_SETTINGS ?? null,
    publicUrl: (env.KRUMMHOLZ_PUBLIC_URL ?? `http://${shownHost}:${port}`).replace(/\/+$/, ''),
    logLevel: env.KRUMMHOLZ_LOG ?? 'info',
    keepDays,
  });
}
