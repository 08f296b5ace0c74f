import { existsSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { openContext } from '../src/app/context.ts';
import { type Config, readConfig } from '../src/config.ts';
import { DESIGN } from '../src/design.ts';
import { EngineError } from '../src/errors.ts';
import type { App } from '../src/http/deps.ts';
import { type RunningServer, startServer } from '../src/server.ts';
import { buildApp } from '../src/service.ts';
import { openStore, type Store } from '../src/storage/store.ts';
import type { Surface } from '../src/terrain/surface.ts';
import { openSurface } from '../src/terrain/tile-set.ts';
import { MS_PER_DAY } from '../src/units.ts';
import { COHORT, GPX, wayUp } from './http/service.ts';
import { writeMountain } from './support/mountain.ts';
import { OnDisk } from './support/on-disk.ts';
import { tempFolder } from './support/temp-folder.ts';

const folder = tempFolder();
const tile = join(folder, 'mountain.tif');
beforeAll(() => writeMountain(tile));

interface RawAnswer {
  readonly status: number;
  readonly head: string;
  readonly code: string;
}

/** Writes bytes to the port and gives all that comes back until the other side closes. */
function exchange(
  port: number,
  send: (write: (bytes: string | Buffer) => boolean) => void,
): Promise<RawAnswer> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1');
    let text = '';
    const settle = (): void => {
      const [head = '', body = ''] = text.split('\r\n\r\n');
      const status = Number(/^HTTP\/1\.1 (\d+)/.exec(head)?.[1] ?? 0);
      resolve({ status, head, code: /"code":"([^"]+)"/.exec(body)?.[1] ?? '' });
    };
    socket.setEncoding('utf8');
    socket.on('data', (chunk: string) => {
      text += chunk;
    });
    // A reset after the answer is how a body that nobody reads ends.
    socket.on('error', (error) => (text === '' ? reject(error) : settle()));
    socket.on('close', settle);
    socket.on('connect', () => send((bytes) => !socket.destroyed && socket.write(bytes)));
  });
}

const HEAD = 'Host: localhost\r\n';
const UPLOAD = `POST /v1/routes HTTP/1.1\r\n${HEAD}Content-Type: ${GPX}\r\n`;

describe('on the wire', () => {
  let app: App;
  let store: Store;
  let surface: Surface;
  let port: number;

  beforeAll(async () => {
    surface = await openSurface([tile]);
    store = openStore(join(folder, 'wire.db'));
    const context = openContext({ store, ground: { surface, design: DESIGN }, nowMs: Date.now });
    const timeouts = { requestMs: 400, headersMs: 300, checkMs: 50 };
    app = await buildApp({ context, store, surface, publicUrl: 'http://127.0.0.1:8787', timeouts });
    port = Number(new URL(await app.listen({ host: '127.0.0.1', port: 0 })).port);
  });

  afterAll(async () => {
    await app.close();
    await store.close();
    await surface.close();
  });

  it('D6: refuses an announced body over the limit before any of it has come', async () => {
    const answer = await exchange(port, (write) =>
      write(`${UPLOAD}Content-Length: 10485761\r\nConnection: close\r\n\r\n`),
    );
    expect([answer.status, answer.code]).toEqual([413, 'body-too-large']);
  });

  it('D7: ends an endless chunked body at the limit and closes', async () => {
    const chunk = `10000\r\n${'x'.repeat(65_536)}\r\n`;
    const answer = await exchange(port, (write) => {
      write(`${UPLOAD}Transfer-Encoding: chunked\r\n\r\n`);
      for (let sent = 0; sent < 170; sent += 1) write(chunk);
    });
    expect([answer.status, answer.code]).toEqual([413, 'body-too-large']);
    expect(answer.head.toLowerCase()).toContain('connection: close');
  });

  it('D8: gives up a body that does not come, while others are served', async () => {
    const slow = exchange(port, (write) => write(`${UPLOAD}Content-Length: 1000\r\n\r\n<gpx`));
    const other = await exchange(port, (write) =>
      write(`GET /livez HTTP/1.1\r\n${HEAD}Connection: close\r\n\r\n`),
    );
    expect(other.status).toBe(200);
    const answer = await slow;
    expect([answer.status, answer.code]).toEqual([408, 'request-timeout']);
  });

  it('D9: closes connections whose headers do not come', async () => {
    const answers = await Promise.all(
      Array.from({ length: 20 }, () => exchange(port, (write) => write('GET /livez HTTP/1.1\r\nX-Slow: '))),
    );
    expect(new Set(answers.map(({ status, code }) => `${status} ${code}`))).toEqual(
      new Set(['408 request-timeout']),
    );
  });

  it.each([
    ['two ways to end a body', `${UPLOAD}Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`],
    ['two lengths', `${UPLOAD}Content-Length: 5\r\nContent-Length: 6\r\n\r\nxxxxx`],
    ['a length that is none', `${UPLOAD}Content-Length: abc\r\n\r\n`],
    ['a negative length', `${UPLOAD}Content-Length: -1\r\n\r\n`],
    ['a method that is none', `FOO /v1/routes HTTP/1.1\r\n${HEAD}\r\n`],
    ['no HTTP at all', '\u0016\u0003\u0001\u0002\r\n\r\n'],
  ])('D10, D14: answers %s with 400 and closes', async (_what, request) => {
    const answer = await exchange(port, (write) => write(request));
    expect([answer.status, answer.code]).toEqual([400, 'bad-request']);
    expect(answer.head.toLowerCase()).toContain('application/problem+json');
  });

  it('D11, D12: refuses headers and addresses of 20 kB', async () => {
    for (const request of [
      `GET /livez HTTP/1.1\r\n${HEAD}X-Long: ${'x'.repeat(20_000)}\r\n\r\n`,
      `GET /v1/${'x'.repeat(20_000)} HTTP/1.1\r\n${HEAD}\r\n`,
    ]) {
      const answer = await exchange(port, (write) => write(request));
      expect([answer.status, answer.code]).toEqual([431, 'headers-too-large']);
    }
  });

  it('D14: does not tunnel', async () => {
    const answer = await exchange(port, (write) =>
      write(`CONNECT example.org:443 HTTP/1.1\r\nHost: example.org:443\r\n\r\n`),
    );
    expect([answer.status, answer.code]).toEqual([405, 'method-not-allowed']);
  });

  it('answers HTTP/1.1 without a Host, and with an address of another host, by refusing', async () => {
    const none = await exchange(port, (write) => write('GET /livez HTTP/1.1\r\nConnection: close\r\n\r\n'));
    expect(none.status).toBe(400);
    const absolute = await exchange(port, (write) =>
      write(`GET http://evil.example/livez HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n`),
    );
    expect(absolute.status).toBeGreaterThanOrEqual(400);
    expect(absolute.head).not.toContain('evil.example');
  });

  it('stores nothing of any of this', async () => {
    expect(await store.routes.all()).toEqual([]);
  });
});

describe('the server', () => {
  let running: RunningServer | null = null;
  afterEach(async () => {
    await running?.close();
    running = null;
  });

  const config = (more: Partial<Config> = {}): Config => ({
    ...readConfig({ KRUMMHOLZ_LOG: 'silent', KRUMMHOLZ_PORT: '0' }),
    databaseFile: join(folder, 'server.db'),
    demPaths: [tile],
    ...more,
  });

  const codeOf = (error: unknown): string => (error instanceof EngineError ? error.code : String(error));

  it('serves, stops when it is told to, and knows everything when it starts again', async () => {
    running = await startServer(config());
    const sent = await fetch(`${running.url}/v1/routes`, {
      method: 'POST',
      headers: { 'content-type': GPX },
      body: wayUp(),
    });
    expect(sent.status).toBe(201);
    await Promise.all([running.close(), running.close()]);
    expect(existsSync(join(folder, 'server.db-wal'))).toBe(false);
    await expect(fetch(`${running.url}/livez`)).rejects.toThrow();

    running = await startServer(config());
    const listed = (await (await fetch(`${running.url}/v1/routes`)).json()) as { routes: { name: string }[] };
    expect(listed.routes.map(({ name }) => name)).toEqual(['South Way']);
  });

  it('lets a request under way end when it stops', async () => {
    running = await startServer(config({ databaseFile: join(folder, 'stopping.db') }));
    const port = Number(new URL(running.url).port);
    const body = wayUp('Late');
    let finish = (): void => undefined;
    const late = exchange(port, (write) => {
      write(`${UPLOAD}Connection: close\r\nContent-Length: ${body.length}\r\n\r\n${body.slice(0, 10)}`);
      finish = () => write(body.slice(10));
    });
    // The request has begun once the server has answered a later one on another connection.
    await fetch(`${running.url}/livez`);
    const closed = running.close();
    finish();
    expect((await late).status).toBe(201);
    await closed;
  });

  it('measures again what settings have changed since', async () => {
    const databaseFile = join(folder, 'settings.db');
    running = await startServer(config({ databaseFile }));
    await fetch(`${running.url}/v1/routes`, {
      method: 'POST',
      headers: { 'content-type': GPX },
      body: wayUp(),
    });
    await running.close();
    const settingsFile = join(folder, 'settings.json');
    writeFileSync(settingsFile, '{"treeline":{"programM":1500}}');
    running = await startServer(config({ databaseFile, settingsFile }));
    const listed = await (await fetch(`${running.url}/v1/routes`)).text();
    expect(listed).toContain('"treelineM":1500,"treelineSource":"program"');
    const settings = await (await fetch(`${running.url}/v1/settings`)).text();
    expect(settings).toContain('"programM":1500');
  });

  it.each([
    ['no tiles', { demPaths: [] }, 'dem-none'],
    ['tiles that are not there', { demPaths: ['no-such-folder'] }, 'file-not-found'],
    ['a settings file that is not there', { settingsFile: 'no-such-file.json' }, 'file-not-found'],
    ['a log level that is none', { logLevel: 'loud' }, 'bad-settings'],
    ['a folder as database', { databaseFile: '.' }, 'file-unreadable'],
  ])('says what is wrong with %s', async (_what, more, code) => {
    await expect(
      startServer(config(more)).catch((error: unknown) => Promise.reject(codeOf(error))),
    ).rejects.toBe(code);
  });

  it('asks itself for pages before it listens, of which nothing is stored or logged', async () => {
    const databaseFile = join(folder, 'asked-before.db');
    let log = '';
    const logTo = { write: (line: string) => (log += line) };
    running = await startServer(config({ databaseFile, logLevel: 'trace' }), { logTo });
    const sent = { method: 'POST', headers: { 'content-type': 'application/json' } };
    await fetch(`${running.url}/v1/cohorts`, { ...sent, body: JSON.stringify(COHORT) });
    const stored = await (await fetch(`${running.url}/v1/cohorts`)).text();
    await running.close();
    log = '';
    running = await startServer(config({ databaseFile, logLevel: 'trace' }), { logTo });
    expect(log).toContain('"msg":"Server listening');
    expect(log).not.toContain('request');
    expect(await (await fetch(`${running.url}/v1/cohorts`)).text()).toBe(stored);
    expect(log).toContain('request completed');
  });

  describe('erases cohorts long after their last trip', () => {
    const START_MS = Date.UTC(2026, 5, 1, 12);
    let nowMs = START_MS;
    let log = '';
    const rim = {
      nowMs: () => nowMs,
      logTo: {
        write(line: string) {
          log += line;
        },
      },
    };

    async function started(databaseFile: string, more: Partial<Config> = {}): Promise<string> {
      running = await startServer(config({ databaseFile, logLevel: 'trace', ...more }), rim);
      return running.url;
    }

    async function addCohort(url: string): Promise<string> {
      const headers = { 'content-type': 'application/json' };
      const body = JSON.stringify(COHORT);
      const answer = await fetch(`${url}/v1/cohorts`, { method: 'POST', headers, body });
      expect(answer.status).toBe(201);
      return ((await answer.json()) as { id: string }).id;
    }

    const statusOf = async (url: string, id: string): Promise<number> =>
      (await fetch(`${url}/v1/cohorts/${id}`)).status;

    const expectErased = (databaseFile: string, id: string): void => {
      const kept = new OnDisk(databaseFile);
      for (const word of [id, COHORT.name, 'zq7x']) {
        expect([word, kept.holds(word), log.includes(word)]).toEqual([word, false, false]);
      }
      expect(log).toContain('"cohorts":1,"msg":"erased');
    };

    it('when it starts, as many days after as its settings say', async () => {
      for (const [keepDays, days, status] of [
        [90, 89, 200],
        [90, 90, 200],
        [90, 91, 404],
        [7, 7, 200],
        [7, 8, 404],
      ] as const) {
        const databaseFile = join(folder, `kept-${keepDays}-${days}.db`);
        nowMs = START_MS;
        log = '';
        const id = await addCohort(await started(databaseFile, { keepDays }));
        await running?.close();
        nowMs += days * MS_PER_DAY;
        expect([days, await statusOf(await started(databaseFile, { keepDays }), id)]).toEqual([days, status]);
        if (status === 404) expectErased(databaseFile, id);
        else expect(log).not.toContain('erased');
        await running?.close();
      }
    });

    it('once a day while it runs', async () => {
      vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
      try {
        const databaseFile = join(folder, 'kept-running.db');
        nowMs = START_MS;
        log = '';
        const url = await started(databaseFile);
        const id = await addCohort(url);
        nowMs += 90 * MS_PER_DAY;
        vi.advanceTimersByTime(MS_PER_DAY);
        expect(await statusOf(url, id)).toBe(200);
        nowMs += MS_PER_DAY;
        vi.advanceTimersByTime(MS_PER_DAY - 1);
        expect(await statusOf(url, id)).toBe(200);
        vi.advanceTimersByTime(1);
        await vi.waitFor(() => expect(log).toContain('"msg":"erased'));
        expect(await statusOf(url, id)).toBe(404);
        expectErased(databaseFile, id);
        await running?.close();
      } finally {
        vi.useRealTimers();
      }
    });
  });

  it('says so where its port is taken', async () => {
    running = await startServer(config());
    const port = Number(new URL(running.url).port);
    const second = startServer(config({ port, databaseFile: join(folder, 'second.db') }));
    await expect(second).rejects.toMatchObject({
      code: 'bad-settings',
      message: expect.stringContaining(String(port)),
    });
  });
});
