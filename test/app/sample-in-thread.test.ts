import { Worker } from 'node:worker_threads';
import { expect, it } from 'vitest';
import { sampleInThread } from '../../src/app/sample-in-thread.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { factsOf } from '../../src/rank/facts.ts';
import { tableOf } from '../../src/rank/rank-table.ts';
import { rankFacts } from '../../src/rank/ranking.ts';
import { rowOf } from '../../src/rank/route-row.ts';
import {
  type CertaintyQuestion,
  certaintyOf,
  certaintyQuestion,
  rankCertainty,
  tryQuestion,
} from '../../src/sampling/certainty.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';

/** What is to be tried for three routes of one mountain. */
function asked(name: string, design = DESIGN) {
  const record = { cohort: COHORT, outings: [shownDay(9000, 800, { date: '2026-06-20' })] };
  const routes = [2400, 2600, 4000].map((lengthUpM) =>
    mountain({ lengthUpM, gainM: 600, name: `${name} ${lengthUpM}` }),
  );
  const table = tableOf(routes.map((route) => rowOf(route, design)));
  const request = { record, date: TRIP, design };
  const facts = factsOf(table, request);
  const ranking = rankFacts(facts);
  return { facts, ranking, question: certaintyQuestion(table, ranking, request) };
}

const ASKED = [asked('Ash Hill'), asked('Birch Hill', withChanges({ acceptability: { draws: 100 } }))];
const QUESTIONS: CertaintyQuestion[] = ASKED.map(({ question }) => question);
const HERE = QUESTIONS.map(tryQuestion);
/** A thread that says nothing and ends when it is asked. */
const mute = () =>
  new Worker("require('node:worker_threads').parentPort.once('message', () => process.exit(1))", {
    eval: true,
  });

it('a thread tries what is tried here, to the last digit, and answers each question with its own', async () => {
  const { sample, close } = sampleInThread();
  const answers = QUESTIONS.map((question) => sample(question));
  expect(answers.every((answer) => answer instanceof Promise)).toBe(true);
  expect(await Promise.all(answers)).toEqual(HERE);
  await close();
});

it('what a thread was sent that ends is tried here, and what comes after it', async () => {
  const { sample, close } = sampleInThread(mute);
  expect(await Promise.all(QUESTIONS.map((question) => sample(question)))).toEqual(HERE);
  expect(QUESTIONS.map((question) => sample(question))).toEqual(HERE);
  await close();
});

it('where no thread can be started it is tried here', async () => {
  const { sample, close } = sampleInThread(() => {
    throw new Error('no room');
  });
  expect(QUESTIONS.map((question) => sample(question))).toEqual(HERE);
  await close();
});

it('a question as plain data is answered as the ranking it was made of', () => {
  ASKED.forEach(({ facts, ranking }, i) => {
    const [own, sent] = [
      rankCertainty(facts, ranking),
      certaintyOf(tryQuestion(QUESTIONS[i] as CertaintyQuestion)),
    ];
    for (const place of [1, 2, 3, 4]) expect(sent.at(place)).toEqual(own.at(place));
  });
});
