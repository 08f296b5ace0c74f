/**
 * Runs the `bench:`, `truth:`, `fuzz:` and `make:` scripts of package.json at their smoke size, so that none breaks
 * unnoticed: `npm run smoke`. Ends with 1 where one fails, and shows what it printed.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

const SIZED = /^(bench|truth|fuzz|make):/;
/** The tests run these whole. */
const IN_TESTS = ['make:demo', 'make:readme'];

const { scripts } = JSON.parse(readFileSync('package.json', 'utf8')) as { scripts: Record<string, string> };
for (const name of Object.keys(scripts).filter(
  (script) => SIZED.test(script) && !IN_TESTS.includes(script),
)) {
  const fromMs = performance.now();
  const { status, stdout, stderr } = spawnSync('npm', ['run', '--silent', name, '--', '--smoke'], {
    encoding: 'utf8',
  });
  const took = `${((performance.now() - fromMs) / 1000).toFixed(1)} s`;
  process.stdout.write(`${status === 0 ? 'ran   ' : 'FAILED'} ${took.padStart(7)}  ${name}\n`);
  if (status === 0) continue;
  process.stdout.write(`${stdout}${stderr}\n`);
  process.exitCode = 1;
}
