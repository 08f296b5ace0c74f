import type { Command } from 'commander';
import { routesOf } from '../../app/measure.ts';
import { checkDate } from '../../app/question.ts';
import { EngineError } from '../../errors.ts';
import { message } from '../../message.ts';
import { routeLadder } from '../../plan/route-ladder.ts';
import { ladderView } from '../../views/training-view.ts';
import { ladderText } from '../ladder-text.ts';
import {
  type Common,
  demOption,
  formatOption,
  jsonText,
  localToday,
  onGround,
  readRecord,
  readRoutes,
  settingsOption,
  type Terminal,
  unitsOption,
} from '../terminal.ts';

export function ladderCommand(program: Command, terminal: Terminal): void {
  program
    .command('ladder')
    .description('the known routes that lead from what a cohort has shown to a target')
    .requiredOption('--cohort <file>', 'cohort file')
    .requiredOption('--routes <path...>', 'GPX or GeoJSON files, or folders')
    .addOption(demOption())
    .requiredOption('--target <name>', 'name of the route to lead to')
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .option('--today <date>', 'steps start after this day (default: today)')
    .addOption(formatOption('text', 'json'))
    .addOption(unitsOption())
    .addOption(settingsOption())
    .action((options) => printLadder(terminal, options));
}

interface LadderOptions extends Common {
  readonly cohort: string;
  readonly routes: string[];
  readonly target: string;
  readonly date: string;
  readonly today?: string;
}

async function printLadder(terminal: Terminal, options: LadderOptions): Promise<void> {
  const tripDate = checkDate(options.date);
  const today = checkDate(options.today ?? localToday());
  await onGround(terminal, options, async (ground) => {
    const record = await readRecord(options.cohort, ground);
    const routes = await readRoutes(options.routes, ground, routesOf);
    const target = routes.find(({ name }) => name === options.target);
    if (target === undefined) {
      const names = routes.map(({ name }) => name).sort();
      throw new EngineError(
        'usage',
        message`no route is called “${options.target.slice(0, 80)}”: write one of ${names.join(', ')}`,
      );
    }
    const { design } = ground;
    const { units } = options;
    const asked = { route: target, record, today, tripDate, routes, design };
    const ladder = ladderView(routeLadder(asked), units);
    terminal.out(
      options.format === 'json' ? jsonText(ladder) : ladderText(ladder, record.cohort.name, units),
    );
  });
}
