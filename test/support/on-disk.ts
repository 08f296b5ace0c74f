import { existsSync, readFileSync } from 'node:fs';

/** A database's files as they lie on the disk now, to be searched for what must not be in them. */
export class OnDisk {
  readonly #files: readonly Buffer[];

  constructor(databaseFile: string) {
    const names = ['', '-wal', '-shm'].map((end) => databaseFile + end);
    this.#files = names.filter((name) => existsSync(name)).map((name) => readFileSync(name));
  }

  holds(needle: string | Buffer): boolean {
    return this.#files.some((bytes) => bytes.includes(needle));
  }

  /** A number as 8 bytes, either way round: SQLite writes the big end first, a buffer of ours the little one. */
  holdsDouble(value: number): boolean {
    const big = Buffer.alloc(8);
    big.writeDoubleBE(value);
    const little = Buffer.alloc(8);
    little.writeDoubleLE(value);
    return this.holds(big) || this.holds(little);
  }

  /** All the texts that match. */
  all(pattern: RegExp): ReadonlySet<string> {
    return new Set(this.#files.flatMap((bytes) => bytes.toString('latin1').match(pattern) ?? []));
  }
}
