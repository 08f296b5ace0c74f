import type Database from 'better-sqlite3';
import { CompiledQuery, type DatabaseConnection, SqliteDialect, SqliteDriver } from 'kysely';

/**
 * A transaction takes the write lock at its first statement. Kysely's plain `begin` takes it at the first write,
 * and then fails without waiting where another process wrote in between.
 */
class LockingDriver extends SqliteDriver {
  readonly #database: Database.Database;

  constructor(database: Database.Database) {
    super({ database });
    this.#database = database;
  }

  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'));
  }

  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    // On a full disk SQLite has rolled back by itself; rolling back again would hide why.
    if (this.#database.inTransaction) await super.rollbackTransaction(connection);
  }
}

export class LockingDialect extends SqliteDialect {
  readonly #database: Database.Database;

  constructor(database: Database.Database) {
    super({ database });
    this.#database = database;
  }

  override createDriver(): SqliteDriver {
    return new LockingDriver(this.#database);
  }
}
