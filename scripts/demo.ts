/**
 * The main job on the invented range: loads routes, cohorts and outings into the embedded store, prints each cohort's
 * shortlist, then serves the API until stopped. `--once` ends after printing.
 */

import { mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { openContext } from '../src/app/context.ts';
import { DEMO_DATE, loadDemo } from '../src/app/demo.ts';
import { shortlist } from '../src/app/shortlist.ts';
import { progressOf } from '../src/cli/progress.ts';
import { shortlistText } from '../src/cli/shortlist-text.ts';
import { type Config, readConfig } from '../src/config.ts';
import { DESIGN } from '../src/design.ts';
import { openStore } from '../src/storage/store.ts';
import { openSurface } from '../src/terrain/tile-set.ts';

const DEMO = 'data/demo';
const ALL = 1000;

const print = (text: string): void => {
  process.stdout.write(`${text}\n`);
};

async function load(config: Config): Promise<void> {
  for (const end of ['', '-wal', '-shm']) rmSync(`${config.databaseFile}${end}`, { force: true });
  const store = openStore(config.databaseFile);
  const surface = await openSurface(config.demPaths);
  try {
    const context = openContext({ store, ground: { surface, design: DESIGN }, nowMs: Date.now });
    const ids = await loadDemo(context, DEMO, (routes) => progressOf(routes, 'measuring'));
    for (const id of ids) {
      const { fits, asked } = await shortlist(context, {
        cohortId: id,
        date: DEMO_DATE,
        changes: null,
        limit: ALL,
        verdicts: null,
        afterRank: 0,
      });
      print(`${'─'.repeat(100)}\n`);
      print(
        shortlistText(
          fits.map(({ fit }) => fit),
          asked,
          'metric',
        ),
      );
      print('');
    }
  } finally {
    await surface.close();
    await store.close();
  }
}

const config: Config = {
  ...readConfig(process.env),
  databaseFile: join('.krummholz', 'demo.db'),
  demPaths: [join(DEMO, 'dem')],
};
mkdirSync('.krummholz', { recursive: true });
print('An invented island range, an invented school, three of its cohorts. Nothing here is a real place.\n');
await load(config);
if (process.argv.includes('--once')) {
  print(`The routes, cohorts and outings are in ${config.databaseFile}.`);
} else {
  const { serveUntilStopped } = await import('../src/server.ts');
  await serveUntilStopped(config, print);
}
