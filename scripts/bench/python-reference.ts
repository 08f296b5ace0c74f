import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

/** A context of Python's in one process, asked line by line, so that its start is not measured. */
export interface PythonReference {
  /** With its version: "GDAL 3.6.2, numpy 1.24.2". */
  readonly name: string;
  ask<Answer>(question: { readonly ask: string } & Readonly<Record<string, unknown>>): Promise<Answer>;
  close(): void;
}

// A Python of one's own often comes without the system's packages.
const PYTHONS = ['/usr/bin/python3', 'python3'];

/**
 * @param script the file beside this one that answers
 * @returns `null` where no Python here has what it imports
 */
export async function openPythonReference(script: string): Promise<PythonReference | null> {
  for (const python of PYTHONS) {
    const file = fileURLToPath(new URL(`./${script}`, import.meta.url));
    const child = spawn(python, [file], { stdio: ['pipe', 'pipe', 'ignore'] });
    child.on('error', () => undefined);
    child.stdin.on('error', () => undefined);
    const lines = createInterface({ input: child.stdout });
    const answers = lines[Symbol.asyncIterator]();
    const next = async (): Promise<string | null> => {
      const line = await answers.next();
      return line.done === true ? null : line.value;
    };
    const hello = await Promise.race([next(), once(child, 'error').then(() => null)]).catch(() => null);
    if (hello === null) {
      child.kill();
      continue;
    }
    const { name } = JSON.parse(hello);
    return {
      name,
      async ask(question) {
        child.stdin.write(`${JSON.stringify(question)}\n`);
        const line = await next();
        if (line === null) throw new Error(`the reference ended at "${question.ask}"`);
        return JSON.parse(line);
      },
      close: () => child.stdin.end(),
    };
  }
  return null;
}
