/**
 * The service with the demo in it, as a process of its own: Node runs it as it runs for users. Says over its channel
 * where it listens and which database file holds the demo untouched; ends when the channel does.
 */
import { copyFile, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startServer } from '../../src/server.ts';
import { SITE_NOW_MS, siteConfig } from './site-config.ts';

const folder = await mkdtemp(join(tmpdir(), 'krummholz-site-'));
const demoDatabase = join(folder, 'stored.db');
const nowMs = () => SITE_NOW_MS;
const loading = await startServer(siteConfig(demoDatabase), { nowMs });
const headers = { 'content-type': 'application/x-www-form-urlencoded', accept: 'text/html' };
await fetch(`${loading.url}/demo`, { method: 'POST', redirect: 'manual', headers });
await loading.close();
const served = join(folder, 'served.db');
await copyFile(demoDatabase, served);
const server = await startServer(siteConfig(served), { nowMs });
process.once('disconnect', async () => {
  await server.close();
  await rm(folder, { recursive: true, force: true });
});
process.send?.({ demoUrl: server.url, demoDatabase });
