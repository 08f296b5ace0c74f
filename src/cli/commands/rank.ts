import type { Command } from 'commander';
import { readJson } from '../../app/files.ts';
import { routesOf } from '../../app/measure.ts';
import { checkDate } from '../../app/question.ts';
import { rank, rankIf } from '../../app/shortlist.ts';
import { EngineError } from '../../errors.ts';
import { whatIfSchema } from '../../ingest/what-if.ts';
import type { FitRequest } from '../../rank/readiness.ts';
import type { Route } from '../../route/describe-route.ts';
import { shortlistView } from '../../views/shortlist-view.ts';
import { movedText } from '../moved-text.ts';
import { shortlistText } from '../shortlist-text.ts';
import {
  type Common,
  demOption,
  formatOption,
  jsonText,
  onGround,
  readRecord,
  readRoutes,
  settingsOption,
  type Terminal,
  unitsOption,
} from '../terminal.ts';

export function rankCommand(program: Command, terminal: Terminal): void {
  program
    .command('rank')
    .description('rank routes for a cohort on a date, with reasons')
    .requiredOption('--cohort <file>', 'cohort file')
    .requiredOption('--routes <path...>', 'GPX or GeoJSON files or folders')
    .addOption(demOption())
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .option(
      '--what-if <file>',
      `JSON file with changes to try: ${Object.keys(whatIfSchema.properties).join(', ')}`,
    )
    .addOption(formatOption('table', 'json'))
    .addOption(unitsOption())
    .addOption(settingsOption())
    .action((options) => printShortlist(terminal, options));
}

interface RankOptions extends Common {
  readonly cohort: string;
  readonly routes: string[];
  readonly date: string;
  readonly whatIf?: string;
}

async function printShortlist(terminal: Terminal, options: RankOptions): Promise<void> {
  const { date, units, format, whatIf } = options;
  checkDate(date);
  await onGround(terminal, options, async (ground) => {
    const record = await readRecord(options.cohort, ground);
    const routes = await readRoutes(options.routes, ground, routesOf);
    const request = { record, date, design: ground.design };
    const { asked, ranked, moved } =
      whatIf === undefined
        ? { asked: request, ranked: rank(routes, request), moved: null }
        : await changed(routes, request, whatIf);
    if (format === 'json') {
      const view = shortlistView(asked, ranked, units);
      terminal.out(jsonText(moved === null ? view : { ...view, moved }));
    } else {
      const text = shortlistText(ranked, asked.record, asked.date, asked.design, units);
      terminal.out(moved === null ? text : `${movedText(moved)}\n\n${text}`);
    }
  });
}

async function changed(routes: readonly Route[], request: FitRequest, file: string) {
  const changes = await readJson(file);
  try {
    return rankIf(routes, request, changes);
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(file) : error;
  }
}
