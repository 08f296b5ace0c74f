import { EngineError } from '../../errors.ts';
import { message } from '../../message.ts';
import { routeLadder } from '../../plan/route-ladder.ts';
import { MEANING_OF_FITS } from '../../text/cautions.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { climbText, lengthText } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { type LadderView, ladderView } from '../../views/training-view.ts';
import { heightsLines, item, wrapped } from '../table.ts';
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
import { wrappedTable } from '../wrapped-table.ts';

/** A ladder of routes for people. */
function ladderText(ladder: LadderView, cohortName: string, units: UnitSystem): string {
  const { target, tripDate, rungs, inTheWay, text, attribution } = ladder;
  const rows = rungs.map(({ date, name, distanceM, gainM, rockClass, verdict }) => [
    date,
    name,
    lengthText(distanceM, units),
    `+${climbText(gainM, units)}`,
    `class ${rockClass ?? 'not stated'}`,
    VERDICT_TEXT[verdict],
  ]);
  return [
    `The way to ${target} on ${tripDate} · ${cohortName}`,
    ...(rungs.length === 0
      ? [wrapped(text, '  ')]
      : [
          ...wrappedTable(
            [
              ['day', 'route', 'length', 'climb', 'class', 'by then'],
              ...rows,
              [tripDate, target, '', '', '', 'shown enough'],
            ],
            100,
            '  ',
          ),
          ...(ladder.state === 'ladder' && inTheWay.length > 0
            ? ['  Training alone does not make it fit:']
            : []),
        ]),
    ...inTheWay.map(({ reason }) => item(`in the way: ${reason}`)),
    wrapped(
      `Each step is with everyone who goes and is worked out as if the ones before had been walked. Plan again when a day is recorded or missed. ${MEANING_OF_FITS}`,
      '  ',
    ),
    ...heightsLines(attribution),
  ].join('\n');
}

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
