/**
 * How long a cohort's page takes with 2,000 stored routes: npm run bench:pages (-- --json). A real server on a store of
 * made-up routes; the time from the request to the first byte of the answer, for everything that the page can be asked.
 * The reference is the style sheet that the same server sends from memory; further rows set the slow ones, 19 in 20,
 * against the aim; the last ones say when the last byte has come: a page is sent as far as its list before that is made.
 */
import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { Agent, request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { CRITERION_NAMES } from '../src/rank/criteria/index.ts';
import { VERDICTS } from '../src/rank/verdict.ts';
import { storeLargeLibrary } from './bench/large-library.ts';
import { type BenchRow, median, report } from './bench/report.ts';
import { sized } from './bench/size.ts';

const SIZE = sized(2000, 40);
const AIM_MS = 80;
const ROUNDS = sized(2, 1);
const STARTS = sized(6, 2);
const DATES = sized(['2026-07-11', '2026-06-20', '2026-08-22'], ['2026-07-11', '2026-06-20']);

const agent = new Agent({ keepAlive: true, maxSockets: 1 });

interface Answer {
  readonly firstByteMs: number;
  readonly lastByteMs: number;
  readonly text: string;
  readonly etag: string | null;
}

interface Sent {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly json?: unknown;
}

function ask(url: string, { method = 'GET', headers = {}, json }: Sent = {}): Promise<Answer> {
  const body = json === undefined ? null : JSON.stringify(json);
  const all = { ...(body === null ? {} : { 'content-type': 'application/json' }), ...headers };
  return new Promise((resolve, reject) => {
    const from = performance.now();
    const sent = request(url, { method, headers: all, agent }, (answer) => {
      const firstByteMs = performance.now() - from;
      const parts: Buffer[] = [];
      answer.on('data', (part: Buffer) => parts.push(part));
      answer.on('end', () => {
        const text = Buffer.concat(parts).toString();
        if ((answer.statusCode ?? 500) >= 400) reject(new RangeError(`${url}: ${text.slice(0, 300)}`));
        else
          resolve({
            firstByteMs,
            lastByteMs: performance.now() - from,
            text,
            etag: answer.headers.etag ?? null,
          });
      });
    });
    sent.on('error', reject);
    sent.end(body);
  });
}

/** The service as users start it, in a process of its own. */
async function serve(databaseFile: string) {
  const env = {
    ...process.env,
    KRUMMHOLZ_DB: databaseFile,
    KRUMMHOLZ_DEM: 'data/demo/dem',
    KRUMMHOLZ_PORT: '0',
    // The demo's season may lie long ago.
    KRUMMHOLZ_KEEP_DAYS: '3650',
    KRUMMHOLZ_LOG: 'error',
  };
  const child = spawn(process.execPath, ['--import', 'tsx', 'src/cli/main.ts', 'serve'], {
    env,
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const url = await new Promise<string>((resolve, reject) => {
    let said = '';
    child.stdout.on('data', (part: Buffer) => {
      said += part.toString();
      const found = /listens on (http:\S+?);/.exec(said)?.[1];
      if (found !== undefined) resolve(found);
    });
    child.once('exit', () => reject(new RangeError('the server did not start')));
  });
  return {
    url,
    async stop() {
      child.kill('SIGTERM');
      await ended;
    },
  };
}

/** What a page is asked beside its date, by the kind of question. */
const ORDERS = ['place', 'name', 'length', 'climb', 'top', ...CRITERION_NAMES]
  .flatMap((key) => [key, `-${key}`])
  .map((key) => `sort=${key}`);
const FILTERS = [
  ...VERDICTS.map((verdict) => `verdict=${verdict}`),
  'verdict=notYet&verdict=stretch',
  'q=knoll',
  'q=sheepfold',
  ...[2, 5, 20, 40].map((page) => `page=${page}`),
];
/** Every round another value, so that each is asked for the first time. */
const whatIfs = (round: number): readonly string[] => [
  `start=04:${10 + round}`,
  `deadline=12:${10 + round}`,
  `seats1=${6 + round}&clearance1=high`,
  `distance=${14 + round}&gain=${900 + round}`,
  `distance=${18 + round}&gain=${1200 + round}&hours=${7 + round}&rockClass=2`,
  ...(round === 0 ? ['without=m1', 'without=m2&without=m3'] : []),
];

const WARMING = 'warming up';
const times = new Map<string, number[]>();
const wholeTimes = new Map<string, number[]>();
const worst = new Map<string, readonly [ms: number, asked: string]>();
function note(kind: string, ms: number, asked: string, wholeMs = ms): void {
  times.set(kind, [...(times.get(kind) ?? []), ms]);
  wholeTimes.set(kind, [...(wholeTimes.get(kind) ?? []), wholeMs]);
  if (ms > (worst.get(kind)?.[0] ?? 0)) worst.set(kind, [ms, asked]);
}

const folder = await mkdtemp(join(tmpdir(), 'krummholz-bench-'));
const databaseFile = join(folder, 'large.db');
let server: Awaited<ReturnType<typeof serve>> | null = null;
try {
  await storeLargeLibrary(databaseFile, SIZE);

  server = await serve(databaseFile);
  for (let start = 0; start < STARTS; start += 1) {
    const { cohorts } = JSON.parse((await ask(`${server.url}/v1/cohorts`)).text) as {
      readonly cohorts: readonly { readonly id: string }[];
    };
    const path = `${server.url}/cohorts/${cohorts.at(-2)?.id}`;
    const query = start % 2 === 0 ? '' : `?date=${DATES[1]}`;
    const { firstByteMs, lastByteMs } = await ask(`${path}${query}`);
    note(`first after the start${query === '' ? '' : ', another day'}`, firstByteMs, query, lastByteMs);
    if (start === STARTS - 1) break;
    await server.stop();
    server = await serve(databaseFile);
  }
  const { url } = server;
  const { cohorts } = JSON.parse((await ask(`${url}/v1/cohorts`)).text) as {
    readonly cohorts: readonly { readonly id: string; readonly name: string }[];
  };
  const page = async (kind: string, id: string, query: string) => {
    const { firstByteMs, lastByteMs, text } = await ask(`${url}/cohorts/${id}?${query}`);
    note(kind, firstByteMs, query, lastByteMs);
    return text;
  };
  const first = await page(WARMING, cohorts[0]?.id ?? '', `date=${DATES[0]}`);
  const style = /href="([^"]+\.css)"/.exec(first)?.[1] ?? '/';
  const styleMs: number[] = [];

  for (let round = 0; round < ROUNDS; round += 1) {
    for (const { id, name } of cohorts) {
      for (const [at, date] of DATES.entries()) {
        const day = `date=${date.slice(0, 8)}${String(Number(date.slice(8)) + round).padStart(2, '0')}`;
        await page('a day never asked about', id, day);
        await page('the same once more', id, day);
        for (const asked of ORDERS) if (round === at) await page('in another order', id, `${day}&${asked}`);
        for (const asked of FILTERS) await page('a filter, a text, another page', id, `${day}&${asked}`);
        const isLabelled = name === 'Marram Seniors';
        for (const asked of whatIfs(round))
          if (isLabelled || !asked.startsWith('without')) await page('what if', id, `${day}&${asked}`);
        const json = await ask(`${url}/v1/cohorts/${id}/shortlist?${day}&limit=50`);
        note('JSON, 50 entries', json.firstByteMs, day);
        const sent = { json: { deadline: `12:${10 + round}` }, method: 'POST' };
        const changed = await ask(`${url}/v1/cohorts/${id}/shortlist?${day}&limit=50`, sent);
        note('JSON, what if', changed.firstByteMs, day);
        for (let i = 0; i < 5; i += 1) styleMs.push((await ask(`${url}${style}`)).firstByteMs);
      }
      const day = `date=${DATES[0]}`;
      const walk = { date: '2026-06-01', distanceM: 9000 + round, gainM: 500, movingMin: 200 };
      await ask(`${url}/v1/cohorts/${id}/outings`, { method: 'POST', json: walk });
      await page('first after a day was recorded', id, day);
      const { routes } = JSON.parse((await ask(`${url}/v1/routes?limit=1`)).text) as {
        readonly routes: readonly { readonly id: string }[];
      };
      const path = `${url}/v1/routes/${routes[0]?.id}`;
      const changes = {
        'first after a note of a route was changed': { notes: `Round ${round}, ${id.slice(-4)}.` },
        'first after a road of a route was changed': {
          trailhead: { roadKm: 30 + 5 * round + cohorts.findIndex((cohort) => cohort.id === id) },
        },
      };
      for (const [kind, change] of Object.entries(changes)) {
        const etag = (await ask(path)).etag ?? '';
        const headers = { 'if-match': etag, 'content-type': 'application/merge-patch+json' };
        await ask(path, { method: 'PATCH', headers, json: change });
        await page(kind, id, day);
      }
    }
  }
  const rows: BenchRow[] = [];
  const slowOf = (values: readonly number[]) =>
    [...values].sort((a, b) => a - b)[Math.ceil(0.95 * values.length) - 1] ?? 0;
  const reference = { reference: median(styleMs), unit: 'ms', referenceIs: 'its style sheet, from memory' };
  times.delete(WARMING);
  for (const [kind, values] of times)
    rows.push({ case: `${kind} (${values.length}), half within`, ours: median(values), ...reference });
  for (const [kind, values] of times) {
    const [, asked] = worst.get(kind) ?? [0, ''];
    const aim = {
      reference: AIM_MS,
      unit: 'ms',
      referenceIs: `the aim${asked === '' ? '' : `; slowest: ${asked}`}`,
    };
    rows.push({ case: `${kind}, 19 in 20 within`, ours: slowOf(values), ...aim });
  }
  for (const [kind, values] of wholeTimes) {
    if (kind === WARMING || kind.startsWith('JSON')) continue;
    const aim = { reference: AIM_MS, unit: 'ms', referenceIs: 'the aim for its first byte' };
    rows.push({ case: `to the last byte: ${kind}, half within`, ours: median(values), ...aim });
    rows.push({ case: `to the last byte: ${kind}, 19 in 20 within`, ours: slowOf(values), ...aim });
  }
  report('pages', rows);
} finally {
  agent.destroy();
  await server?.stop();
  await rm(folder, { recursive: true, force: true });
}
