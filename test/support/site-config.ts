import { type Config, readConfig } from '../../src/config.ts';

/** The day before the demo's trips. */
export const SITE_NOW_MS = Date.UTC(2026, 6, 10, 12);

/** The service on the invented range's ground, at a free port. */
export const siteConfig = (databaseFile: string): Config => ({
  ...readConfig({ KRUMMHOLZ_LOG: 'silent', KRUMMHOLZ_PORT: '0' }),
  databaseFile,
  demPaths: ['data/demo/dem'],
});
