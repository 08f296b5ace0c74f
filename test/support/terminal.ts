import { run } from '../../src/cli/commands.ts';

/** Runs a command line as the terminal does, and collects what it says. */
export async function krummholz(...argv: string[]): Promise<{ status: number; out: string; err: string }> {
  let out = '';
  let err = '';
  const status = await run(argv, {
    out: (text) => {
      out += `${text}\n`;
    },
    err: (text) => {
      err += text;
    },
    serve: async () => {},
  });
  return { status, out, err };
}
