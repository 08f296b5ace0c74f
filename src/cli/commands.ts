import { Command, CommanderError } from 'commander';
import { EngineError } from '../errors.ts';
import { errorText, namesItsPlace } from '../text/errors.ts';
import type { UnitSystem } from '../units.ts';
import { afterCommand } from './commands/after.ts';
import { demCommand } from './commands/dem.ts';
import { ladderCommand } from './commands/ladder.ts';
import { measureCommand } from './commands/measure.ts';
import { planCommand } from './commands/plan.ts';
import { rankCommand } from './commands/rank.ts';
import { seasonCommand } from './commands/season.ts';
import { shownCommand } from './commands/shown.ts';
import type { Terminal } from './terminal.ts';

/** In the order in which the help names them. */
const COMMANDS = [
  measureCommand,
  rankCommand,
  planCommand,
  ladderCommand,
  seasonCommand,
  shownCommand,
  afterCommand,
  demCommand,
];

function program(terminal: Terminal): Command {
  const krummholz = new Command('krummholz')
    .description('Fits mountain summit days to groups, from real terrain and from what the group has shown.')
    .exitOverride()
    .configureOutput({ writeOut: (text) => terminal.out(text.trimEnd()), writeErr: () => {} })
    .showHelpAfterError(false);
  for (const add of COMMANDS) add(krummholz, terminal);
  krummholz
    .command('serve')
    .description('serve the API on this machine; settings from the environment, see README')
    .action(() => terminal.serve(terminal.out));
  for (const command of krummholz.commands) {
    command
      .exitOverride()
      .configureOutput({ writeOut: (text) => terminal.out(text.trimEnd()), writeErr: () => {} });
  }
  return krummholz;
}

/** What is wrong with a file is said in the units that the command asked for. */
const unitsIn = (argv: readonly string[]): UnitSystem =>
  argv.some((word, i) => word === '--units=us' || (word === 'us' && argv[i - 1] === '--units'))
    ? 'us'
    : 'metric';

function placeText(error: EngineError): string {
  const { place } = error;
  const at = [
    place.file,
    place.line === undefined ? undefined : `line ${place.line}`,
    place.column === undefined ? undefined : `column ${place.column}`,
    place.byteOffset === undefined ? undefined : `byte ${place.byteOffset}`,
    namesItsPlace(error) ? undefined : place.pointer,
  ].filter((part) => part !== undefined);
  return at.length > 0 ? `${at.join(', ')}: ` : '';
}

/**
 * Runs one command line (without node and script). Exit status: 0 done, 1 the input was refused, 2 the command was
 * wrong, 70 a fault of ours.
 */
export async function run(argv: readonly string[], terminal: Terminal): Promise<number> {
  const fail = (text: string, status: number): number => {
    terminal.err(`krummholz: ${text}\n`);
    return status;
  };
  try {
    await program(terminal).parseAsync([...argv], { from: 'user' });
    return 0;
  } catch (error) {
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return 0;
      const named =
        error.code === 'commander.help'
          ? 'name a command'
          : error.message.replace(/^error: /, '').replaceAll('\n', ' ');
      return fail(`${named} (see krummholz --help)`, 2);
    }
    if (error instanceof EngineError) {
      const status = error.code === 'usage' ? 2 : 1;
      const units = unitsIn(argv);
      for (const fault of error.all)
        fail(`${placeText(fault)}${errorText(fault, units)} [${fault.code}]`, status);
      return status;
    }
    const message = error instanceof Error ? error.message : String(error);
    return fail(`a fault of ours, please report it: ${message}`, 70);
  }
}
