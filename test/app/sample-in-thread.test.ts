import { Worker } from 'node:worker_threads';
import { expect, it } from 'vitest';
import { sampleInThread } from '../../src/app/sample-in-thread.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { rankTable } from '../../src/rank/rank-by-table.ts';
import { tableOf } from '../../src/rank/rank-table.ts';
import { readinessOf } from '../../src/rank/readiness.ts';
import { rowOf } from '../../src/rank/route-row.ts';
import { drawnGroup, drawOrder } from '../../src/sampling/acceptability.ts';
import { leadingOf } from '../../src/sampling/ranking.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';

/** What is to be drawn for three routes of one mountain. */
function asked(name: string, design = DESIGN): Parameters<typeof drawOrder> {
  const record = { cohort: COHORT, outings: [shownDay(9000, 800, { date: '2026-06-20' })] };
  const routes = [2400, 2600, 4000].map((lengthUpM) =>
    mountain({ lengthUpM, gainM: 600, name: `${name} ${lengthUpM}` }),
  );
  const table = tableOf(routes.map((route) => rowOf(route, design)));
  const readiness = readinessOf({ record, date: TRIP, design });
  const judged = rankTable(table, { record, date: TRIP, design }, readiness);
  return [leadingOf(table, judged, readiness, design), drawnGroup(record, readiness), design];
}

const JOBS = [asked('Ash Hill'), asked('Birch Hill', withChanges({ acceptability: { draws: 100 } }))];
const HERE = JOBS.map((job) => drawOrder(...job));
/** A thread that says nothing and ends when it is asked. */
const mute = () =>
  new Worker("require('node:worker_threads').parentPort.once('message', () => process.exit(1))", {
    eval: true,
  });

it('a thread draws what is drawn here, to the last digit, and answers each question with its own', async () => {
  const { sample, close } = sampleInThread();
  const answers = JOBS.map((job) => sample(...job));
  expect(answers.every((answer) => answer instanceof Promise)).toBe(true);
  expect(await Promise.all(answers)).toEqual(HERE);
  await close();
});

it('what a thread was sent that ends is drawn here, and what comes after it', async () => {
  const { sample, close } = sampleInThread(mute);
  expect(await Promise.all(JOBS.map((job) => sample(...job)))).toEqual(HERE);
  expect(JOBS.map((job) => sample(...job))).toEqual(HERE);
  await close();
});

it('where no thread can be started it is drawn here', async () => {
  const { sample, close } = sampleInThread(() => {
    throw new Error('no room');
  });
  expect(JOBS.map((job) => sample(...job))).toEqual(HERE);
  await close();
});
