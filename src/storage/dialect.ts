import type Database from 'better-sqlite3';
import { CompiledQuery, type DatabaseConnection, SqliteDialect, SqliteDriver } from 'kysely';

/**
 * A transaction takes the write lock at its first statement. Kysely's plain `begin` takes it at the first write,
 * and then fails without waiting where another process wrote in between.
 */
class LockingDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'));
  }
}

export class LockingDialect extends SqliteDialect {
  readonly #database: Database.Database;

  constructor(database: Database.Database) {
    super({ database });
    this.#database = database;
  }

  override createDriver(): SqliteDriver {
    return new LockingDriver({ database: this.#database });
  }
}
