#!/usr/bin/env node
import { readDemConfig } from '../config.ts';
import { run } from './commands.ts';

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // The reader of a pipe went away: nothing more to say.
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});

process.exitCode = await run(process.argv.slice(2), {
  out: (text) => process.stdout.write(`${text}\n`),
  err: (text) => process.stderr.write(text),
  dem: () => {
    const { hosts, indexFile } = readDemConfig(process.env);
    return { indexFile, remote: { hosts, random: Math.random } };
  },
  serve: async (print) => {
    // Loaded only here: the other commands start faster without the server.
    const { readConfig } = await import('../config.ts');
    const { serveUntilStopped } = await import('../server.ts');
    await serveUntilStopped(readConfig(process.env), print);
  },
});
