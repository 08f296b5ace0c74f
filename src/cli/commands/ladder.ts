import { EngineError } from '../../errors.ts';
import { message } from '../../message.ts';
import { routeLadder } from '../../plan/route-ladder.ts';
import { ladderView } from '../../views/training-view.ts';
import { ladderText } from '../ladder-text.ts';
import {
  COHORT,
  DATE,
  DEM,
  groundCommand,
  jsonText,
  localToday,
  needed,
  readRecord,
  readRoutes,
  todayOption,
} from '../terminal.ts';

interface LadderOptions {
  readonly cohort: string;
  readonly routes: string[];
  readonly target: string;
  readonly date: string;
  readonly today?: string;
}

export const ladderCommand = groundCommand<LadderOptions>({
  name: 'ladder',
  description: 'the known routes that lead from what a cohort has shown to a target',
  options: [
    COHORT,
    needed('--routes <path...>', 'GPX or GeoJSON files, or folders'),
    DEM,
    needed('--target <name>', 'name of the route to lead to'),
    DATE,
    todayOption('steps start after this day (default: today)'),
  ],
  formats: ['text', 'json'],
  async print(ground, options) {
    const record = await readRecord(options.cohort, ground);
    const routes = await readRoutes(options.routes, ground);
    const target = routes.find(({ name }) => name === options.target);
    if (target === undefined) {
      const names = routes.map(({ name }) => name).sort();
      throw new EngineError(
        'usage',
        message`no route is called “${options.target.slice(0, 80)}”: write one of ${names.join(', ')}`,
      );
    }
    const { design } = ground;
    const { units, today = localToday(), date: tripDate } = options;
    const ladder = ladderView(routeLadder({ route: target, record, today, tripDate, routes, design }), units);
    return options.format === 'json' ? jsonText(ladder) : ladderText(ladder, record.cohort.name, units);
  },
});
