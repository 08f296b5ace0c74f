/** The database: one SQLite file. This folder alone knows better-sqlite3 and Kysely. */
import { randomBytes } from 'node:crypto';
import { closeSync, openSync } from 'node:fs';
import Database from 'better-sqlite3';
import { Kysely } from 'kysely';
import { EngineError, systemCode } from '../errors.ts';
import { type CohortRepository, cohortRepository } from './cohorts.ts';
import type { StoreContext } from './context.ts';
import { LockingDialect } from './dialect.ts';
import { migrate, SCHEMA_VERSION, schemaVersion } from './migrations.ts';
import { type OutingRepository, outingRepository } from './outings.ts';
import { type RouteRepository, routeRepository } from './routes.ts';
import type { Tables } from './tables.ts';

export interface StoreOptions {
  readonly nowMs?: () => number;
  /** Gives so many unguessable bytes. */
  readonly random?: (bytes: number) => Uint8Array;
}

export interface Store {
  readonly routes: RouteRepository;
  readonly cohorts: CohortRepository;
  readonly outings: OutingRepository;
  /** Signs the cursors of this store's lists; made once, kept in the file. */
  readonly secret: Uint8Array;
  /** A setting of the connection: some decide what is kept over a power cut and after an erasure. */
  pragma(name: string): unknown;
  /** Whether the schema is this program's and a row can be read. */
  isReady(): Promise<boolean>;
  /**
   * Leaves nothing erased behind: rebuilds the database where something of a cohort was deleted or changed, and empties
   * the write-ahead log into it. Where another process is in the way it is tried again until it is done.
   */
  checkpoint(): Promise<void>;
  close(): Promise<void>;
}

/** How long a statement waits for another process (design). */
const BUSY_MS = 5000;
/** How long after another process was in the way it is tried again (design). */
const RETRY_MS = 2000;
/** 128 bits cannot be guessed. */
const ID_BYTES = 16;

/**
 * Opens a database file, making it where it is missing (readable by its owner alone) and bringing an older schema up.
 * Every commit is on the disk before it is answered.
 * @throws EngineError `file-not-found` without the folder, `file-unreadable` where it cannot be opened or is not ours.
 */
export function openStore(file: string, options: StoreOptions = {}): Store {
  const random = options.random ?? ((bytes: number) => randomBytes(bytes));
  const connection = open(file);
  const secret = secretOf(connection, random);
  const db = new Kysely<Tables>({ dialect: new LockingDialect(connection) });
  const context: StoreContext = {
    db,
    nowMs: options.nowMs ?? Date.now,
    newId: (prefix) => `${prefix}_${Buffer.from(random(ID_BYTES)).toString('base64url')}`,
  };
  let again: NodeJS.Timeout | null = null;
  // Through the queue of Kysely: no transaction of another request may be open.
  const checkpoint = (): Promise<void> => db.connection().execute(async () => leaveNothing());
  /** Erased means gone: tries again until nothing is left. */
  function leaveNothing(): void {
    if (again !== null) clearTimeout(again);
    again = null;
    // Nobody waits for another process here, which may read for minutes.
    connection.pragma('busy_timeout = 0');
    try {
      if (rebuilt(connection) && isLogEmptied(connection)) return;
    } finally {
      connection.pragma(`busy_timeout = ${BUSY_MS}`);
    }
    again = setTimeout(() => {
      // A full disk, say: the next erasure, the daily one or the next start finds the mark and tries again.
      checkpoint().catch(() => undefined);
    }, RETRY_MS);
    again.unref();
  }
  // What a killed process left behind goes now. Without room for it the service starts all the same.
  try {
    leaveNothing();
  } catch (error) {
    if (systemCode(error) !== 'SQLITE_FULL') {
      connection.close();
      throw error;
    }
  }
  return {
    routes: routeRepository(context),
    cohorts: cohortRepository(context),
    outings: outingRepository(context),
    secret,
    pragma: (name) => connection.pragma(name, { simple: true }),
    async isReady() {
      await db.selectFrom('routes').select('id').limit(1).execute();
      return schemaVersion(connection) === SCHEMA_VERSION;
    },
    checkpoint,
    async close() {
      if (again !== null) clearTimeout(again);
      await db.destroy();
      // Kysely leaves a connection open that it never used. Closing empties and removes the log.
      connection.close();
    },
  };
}

function open(file: string): Database.Database {
  let connection: Database.Database | null = null;
  try {
    // Holds labels and outings of minors: SQLite gives its log files the rights of this one.
    closeSync(openSync(file, 'a', 0o600));
    connection = new Database(file, { timeout: BUSY_MS });
    connection.pragma('journal_mode = WAL');
    // Not left to the library: after a reopen it would be NORMAL, and a power cut could take the last commits.
    connection.pragma('synchronous = FULL');
    connection.pragma('foreign_keys = ON');
    connection.pragma('secure_delete = ON');
    // Temporary files would hold labels beside the database.
    connection.pragma('temp_store = MEMORY');
    connection.pragma('trusted_schema = OFF');
    migrate(connection, file);
    return connection;
  } catch (error) {
    connection?.close();
    throw error instanceof EngineError ? error : unusable(error, file);
  }
}

/**
 * Rebuilds the file where triggers have marked that something was erased. `secure_delete` alone does not reach the
 * copies of rows that SQLite leaves in the unused part of a page when it moves rows to another one (seen in tests).
 * False where another process is writing.
 */
function rebuilt(connection: Database.Database): boolean {
  const mark = connection.prepare("select value from meta where key = 'erased'").pluck().get();
  if (mark === undefined) return true;
  try {
    connection.exec('vacuum');
    // Another process may have erased since: its mark is another one and stays.
    connection.prepare("delete from meta where key = 'erased' and value = ?").run(mark);
    return true;
  } catch (error) {
    if (systemCode(error).startsWith('SQLITE_BUSY')) return false;
    throw error;
  }
}

/** False where another process is reading the log. */
function isLogEmptied(connection: Database.Database): boolean {
  const [row] = connection.pragma('wal_checkpoint(truncate)') as { busy: number }[];
  return row?.busy !== 1;
}

const UNUSABLE = [
  [/^ENOENT$/, 'file-not-found', 'the folder of the database file does not exist: make it'],
  [/^SQLITE_(NOTADB|CORRUPT)$/, 'file-unreadable', 'the database file is damaged or none: restore a backup'],
  [
    /^(EACCES|EPERM|EROFS|EISDIR|SQLITE_CANTOPEN|SQLITE_READONLY)/,
    'file-unreadable',
    'the database file cannot be written: look at its rights',
  ],
] as const;

function unusable(error: unknown, file: string): unknown {
  const [, code, reason] = UNUSABLE.find(([pattern]) => pattern.test(systemCode(error))) ?? [];
  return code === undefined ? error : new EngineError(code, reason, { file });
}

function secretOf(connection: Database.Database, random: (bytes: number) => Uint8Array): Uint8Array {
  connection
    .prepare("insert or ignore into meta (key, value) values ('cursorSecret', ?)")
    .run(Buffer.from(random(32)));
  return connection.prepare("select value from meta where key = 'cursorSecret'").pluck().get() as Buffer;
}
