import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** A folder of this test file's own, removed when it ends. */
export function tempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'krummholz-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
