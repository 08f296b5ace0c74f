/** How a benchmark is told: a table for people, or one document with `--json`. */
import { cpus } from 'node:os';

/** One comparison, in the same run: medians. `ratio` is ours over the reference. */
export interface BenchRow {
  readonly case: string;
  readonly ours: number;
  /** `null`: the reference is not installed here. */
  readonly reference: number | null;
  readonly unit: string;
  readonly referenceIs: string;
}

const figure = (value: number | null): string => (value === null ? '–' : value.toPrecision(4));

/** Prints the rows as `process.argv` asks. */
export function report(name: string, rows: readonly BenchRow[], kind: 'bench' | 'truth' = 'bench'): void {
  const machine = `${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}`;
  const rated = rows.map((row) => ({
    ...row,
    ratio: row.reference === null ? null : row.ours / row.reference,
  }));
  if (process.argv.includes('--json')) {
    process.stdout.write(`${JSON.stringify({ name, machine, rows: rated })}\n`);
    return;
  }
  const width = Math.max(...rated.map((row) => row.case.length));
  const lines = rated.map(
    (row) =>
      `${row.case.padEnd(width)}  ${figure(row.ours).padStart(9)} ${row.unit.padEnd(4)} ${figure(row.reference).padStart(9)}  × ${figure(row.ratio).padEnd(7)} of ${row.referenceIs}`,
  );
  process.stdout.write(
    [`${kind}:${name} on ${machine}`, `${''.padEnd(width)}       ours      reference`, ...lines, ''].join(
      '\n',
    ),
  );
}

/** The middle of some numbers. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return ((sorted[Math.floor(half)] ?? 0) + (sorted[Math.ceil(half) - 1] ?? 0)) / 2;
}

/** Milliseconds of several things in turn, `rounds` times, after one round that does not count: the median of each. */
export function mediansMs(rounds: number, ...works: readonly (() => unknown)[]): number[] {
  const times = works.map((): number[] => []);
  for (let round = 0; round <= rounds; round += 1) {
    works.forEach((work, i) => {
      const from = performance.now();
      work();
      if (round > 0) times[i]?.push(performance.now() - from);
    });
  }
  return times.map(median);
}
