import type { Command } from 'commander';
import { shownOn, shownView } from '../../app/groups.ts';
import { checkDate } from '../../app/question.ts';
import { recordText } from '../after-text.ts';
import { heightsLines } from '../heights-lines.ts';
import { readinessText } from '../readiness-text.ts';
import {
  type Common,
  demOption,
  formatOption,
  jsonText,
  onGround,
  readRecord,
  settingsOption,
  type Terminal,
  unitsOption,
} from '../terminal.ts';

export function shownCommand(program: Command, terminal: Terminal): void {
  program
    .command('shown')
    .description('for leaders: what a cohort has shown, who limits it, and its pace')
    .requiredOption('--cohort <file>', 'cohort file')
    .addOption(demOption())
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .addOption(formatOption('text', 'json'))
    .addOption(unitsOption())
    .addOption(settingsOption())
    .action((options) => printShown(terminal, options));
}

async function printShown(
  terminal: Terminal,
  options: Common & { cohort: string; date: string },
): Promise<void> {
  checkDate(options.date);
  await onGround(terminal, options, async (ground) => {
    const record = await readRecord(options.cohort, ground);
    const shown = shownOn({ record, date: options.date, design: ground.design });
    if (options.format === 'json') {
      terminal.out(jsonText(shownView(shown)));
    } else {
      const { readiness: view, season } = shown;
      const heights = heightsLines(view.attribution);
      terminal.out([`${readinessText(view, options.units)}\n\n${recordText(season)}`, ...heights].join('\n'));
    }
  });
}
