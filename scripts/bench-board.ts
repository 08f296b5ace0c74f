/**
 * How long the season board takes: the whole answer (program made smaller, three stages, why each cohort without a day
 * has none) for drawn seasons of the size that it is meant for, against the 10 s that it may take. `-- --json`: one
 * document.
 */
import { cpus } from 'node:os';
import { solveBoard } from '../src/app/solve-board.ts';
import { DESIGN } from '../src/design.ts';
import { CASES, drawnSeason, SMOKE_CASES } from './bench/board-cases.ts';
import { sized } from './bench/size.ts';

const SEEDS = sized([1, 2, 3, 4, 5], [1]);
const ALLOWED_S = 10;

const rows = [];
for (const one of sized(CASES, SMOKE_CASES)) {
  for (const seed of SEEDS) {
    const problem = drawnSeason(one, seed);
    const startMs = performance.now();
    const { assignment } = await solveBoard(problem, DESIGN.season.solveS);
    const tookS = (performance.now() - startMs) / 1000;
    rows.push({
      case: `${one.name}, seed ${seed}: ${one.cohorts} × ${one.dates} × ${one.routes}, ${problem.options.length} options, ${assignment.placed} placed${assignment.isProven ? '' : ', not proven'}`,
      ours: Number(tookS.toFixed(2)),
      reference: ALLOWED_S,
      unit: 's',
      ratio: Number((tookS / ALLOWED_S).toFixed(3)),
      referenceIs: 'the time allowed',
    });
    if (!process.argv.includes('--json')) {
      const row = rows.at(-1);
      console.log(`${String(row?.ours ?? '').padStart(6)} s  ${row?.case ?? ''}`);
    }
  }
}
if (process.argv.includes('--json')) {
  const machine = `${cpus()[0]?.model ?? 'unknown'}, Node ${process.versions.node}`;
  console.log(JSON.stringify({ name: 'bench:board', machine, rows }, null, 2));
}
