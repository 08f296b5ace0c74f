import type Database from 'better-sqlite3';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';

/** Marks a database file as this project's (SQLite `application_id`): the letters KRUM. */
const APPLICATION_ID = 0x4b52554d;

/** One entry a schema version, oldest first; a shipped entry is never edited. */
const MIGRATIONS: readonly string[] = [
  `
  create table meta (key text primary key, value blob not null) strict, without rowid;

  create table routes (
    id text primary key,
    contentHash text not null,
    position integer not null,
    ofFile integer not null,
    name text not null,
    revision integer not null,
    createdAtMs integer not null,
    updatedAtMs integer not null,
    attributes text not null,
    line text not null,
    measured text not null,
    method text not null,
    unique (contentHash, position)
  ) strict;
  create index routesByCreation on routes (createdAtMs, id);

  create table cohorts (
    id text primary key,
    name text not null,
    revision integer not null,
    createdAtMs integer not null,
    updatedAtMs integer not null,
    cohort text not null
  ) strict;
  create index cohortsByCreation on cohorts (createdAtMs, id);

  create table outings (
    id text primary key,
    cohortId text not null references cohorts (id) on delete cascade,
    createdAtMs integer not null,
    outing text not null
  ) strict;
  create index outingsByCohort on outings (cohortId, createdAtMs, id);
  `,
  `
  alter table cohorts add column lastTripDate text not null default '';
  update cohorts set lastTripDate = date(createdAtMs / 1000, 'unixepoch');
  `,
  // An outing's day counts too, at most 366 days after it was stored (as in last-trip.ts).
  // 'erased' marks that pages may hold what was erased until the file is rebuilt (store.ts): also in every older file.
  `
  update cohorts set lastTripDate = max(lastTripDate, coalesce((
    select max(min(outing ->> '$.date', date(createdAtMs / 1000, 'unixepoch', '+366 days')))
    from outings where cohortId = cohorts.id
  ), ''));

  create trigger cohortDeleted after delete on cohorts
    begin insert or replace into meta values ('erased', randomblob(8)); end;
  create trigger cohortChanged after update of cohort on cohorts
    begin insert or replace into meta values ('erased', randomblob(8)); end;
  create trigger outingDeleted after delete on outings
    begin insert or replace into meta values ('erased', randomblob(8)); end;
  create trigger outingChanged after update of outing on outings
    begin insert or replace into meta values ('erased', randomblob(8)); end;
  insert or replace into meta values ('erased', randomblob(8));
  `,
  // What ranking looks at, beside each route, and a number by which a table made of it is known to be still good.
  `
  alter table routes add column ranking text not null default '';
  create table routesVersion (version integer not null) strict;
  insert into routesVersion values (1);
  create trigger routeAdded after insert on routes
    begin update routesVersion set version = version + 1; end;
  create trigger routeChanged after update on routes
    begin update routesVersion set version = version + 1; end;
  create trigger routeDeleted after delete on routes
    begin update routesVersion set version = version + 1; end;
  `,
];

export const SCHEMA_VERSION = MIGRATIONS.length;

export function schemaVersion(db: Database.Database): number {
  return Number(db.pragma('user_version', { simple: true }));
}

/**
 * Brings a database to this program's schema, all steps or none.
 * @throws EngineError `file-unreadable` where a newer program wrote it, or another one altogether.
 */
export function migrate(db: Database.Database, file: string): void {
  const step = db.transaction(() => {
    const version = schemaVersion(db);
    const owner = Number(db.pragma('application_id', { simple: true }));
    const tables = Number(db.prepare('select count(*) from sqlite_schema').pluck().get());
    if (owner !== APPLICATION_ID && (owner !== 0 || tables > 0)) {
      throw new EngineError(
        'file-unreadable',
        'the database file belongs to another program: name another file',
        { file },
      );
    }
    if (version > SCHEMA_VERSION) {
      throw new EngineError(
        'file-unreadable',
        message`the database has schema ${version}, this program knows up to ${SCHEMA_VERSION}: start the newer program`,
        { file, found: version, limit: SCHEMA_VERSION },
      );
    }
    for (const migration of MIGRATIONS.slice(version)) db.exec(migration);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    db.pragma(`user_version = ${SCHEMA_VERSION}`);
  });
  step.immediate();
}
