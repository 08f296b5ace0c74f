import Type from 'typebox';
import Value from 'typebox/value';
import { EngineError, faultsOf, together } from './errors.ts';
import { message } from './message.ts';
import { closed } from './schema.ts';

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

/** What the service reads from the environment. A description says what is wrong with a value, which stands for "…". */
const VARIABLES = closed({
  KRUMMHOLZ_HOST: Type.String({
    default: '127.0.0.1',
    // The service has no accounts yet.
    pattern: '^(127\\.0\\.0\\.1|::1|localhost)$',
    description:
      'is …: until there are accounts the service listens on this machine only; leave it out or use 127.0.0.1',
  }),
  KRUMMHOLZ_PORT: Type.Integer({
    default: 8787,
    minimum: 0,
    maximum: 65535,
    description: 'is …: give a port number, 0 to 65535',
  }),
  KRUMMHOLZ_KEEP_DAYS: Type.Integer({
    default: USUAL_KEEP_DAYS,
    minimum: 1,
    maximum: 3650,
    description: 'is …: give a number of days, 1 to 3650',
  }),
  KRUMMHOLZ_PUBLIC_URL: Type.Optional(
    Type.String({
      pattern: '^https?://[^\\s/?#]+(/[^\\s?#]*)?$',
      description: 'is …: give an address such as http://127.0.0.1:8787',
    }),
  ),
  KRUMMHOLZ_DB: Type.String({
    default: 'krummholz.db',
    pattern: '^(?!:memory:$)[^]',
    description: 'must name a file: what is kept in memory is lost on stop',
  }),
  KRUMMHOLZ_DEM: Type.String({ default: '' }),
  KRUMMHOLZ_SETTINGS: Type.Optional(Type.String()),
  KRUMMHOLZ_LOG: Type.String({ default: 'info' }),
});

/** One entry of KRUMMHOLZ_DEM: an address, whose colons do not part entries, or a path. */
const DEM_PATH = /https?:\/\/(?:\[[^\]]*\]|[^/:]+)(?::\d+)?\/[^:]*|[^:]+/g;

type Env = Readonly<Record<string, string | undefined>>;

function variablesIn(env: Env, faults: EngineError[]): Type.Static<typeof VARIABLES> {
  const read = Object.entries(VARIABLES.properties).flatMap(([name, schema]) => {
    const text = env[name];
    if (text === undefined) return 'default' in schema ? [[name, schema.default]] : [];
    const value = Type.IsInteger(schema) && /^\d{1,5}$/.test(text) ? Number(text) : text;
    if (!Value.Check(schema, value)) {
      const wrong = 'description' in schema ? String(schema.description) : 'cannot be used';
      faults.push(new EngineError('bad-settings', message`${name} ${wrong.replace('…', () => text)}`));
    }
    return [[name, value]];
  });
  return Object.fromEntries(read);
}

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
      message`KRUMMHOLZ_DEM_HOSTS names ${odd}: give hosts in small letters with commas between, such as tiles.example.org`,
    );
  const system = env.XDG_CACHE_HOME ?? env.LOCALAPPDATA ?? (env.HOME ? `${env.HOME}/.cache` : undefined);
  const folder = env.KRUMMHOLZ_CACHE ?? (system ? `${system}/krummholz` : '');
  return { hosts, indexFile: folder === '' ? null : `${folder}/elevation-index.json` };
}

/** @throws EngineError `bad-settings` with all the values that cannot be used. */
export function readConfig(env: Env): Config {
  const faults: EngineError[] = [];
  const stated = variablesIn(env, faults);
  faults.push(...faultsOf(() => readDemConfig(env)));
  if (faults.length > 0) throw together(faults);
  const host = stated.KRUMMHOLZ_HOST;
  const port = stated.KRUMMHOLZ_PORT;
  const own = `http://${host === '::1' ? '[::1]' : host}:${port}`;
  return Object.freeze({
    host,
    port,
    databaseFile: stated.KRUMMHOLZ_DB,
    demPaths: stated.KRUMMHOLZ_DEM.match(DEM_PATH) ?? [],
    dem: readDemConfig(env),
    settingsFile: stated.KRUMMHOLZ_SETTINGS ?? null,
    publicUrl: (stated.KRUMMHOLZ_PUBLIC_URL ?? own).replace(/\/+$/, ''),
    logLevel: stated.KRUMMHOLZ_LOG,
    keepDays: stated.KRUMMHOLZ_KEEP_DAYS,
  });
}
