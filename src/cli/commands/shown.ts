import { shownOn, shownView } from '../../app/groups.ts';
import { recordText } from '../after-text.ts';
import { heightsLines } from '../heights-lines.ts';
import { readinessText } from '../readiness-text.ts';
import { COHORT, DATE, DEM, groundCommand, jsonText, readRecord } from '../terminal.ts';

export const shownCommand = groundCommand<{ cohort: string; date: string }>({
  name: 'shown',
  description: 'for leaders: what a cohort has shown, who limits it, and its pace',
  options: [COHORT, DEM, DATE],
  formats: ['text', 'json'],
  async print(ground, { cohort, date, format, units }) {
    const record = await readRecord(cohort, ground);
    const shown = shownOn({ record, date, design: ground.design });
    if (format === 'json') return jsonText(shownView(shown));
    const { readiness, season } = shown;
    const heights = heightsLines(readiness.attribution);
    return [`${readinessText(readiness, units)}\n\n${recordText(season)}`, ...heights].join('\n');
  },
});
