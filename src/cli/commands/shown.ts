import { shownOn, shownView } from '../../app/groups.ts';
import { shownRows, speedText } from '../../text/shown-words.ts';
import { percentText, plural } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import type { ReadinessView } from '../../views/readiness-view.ts';
import { recordText } from '../after-text.ts';
import { heightsLines, item, table, wrapped } from '../table.ts';
import { COHORT, DATE, DEM, groundCommand, jsonText, readRecord } from '../terminal.ts';

/** What a cohort has shown, for its leaders: the one place where labels are named. */
function readinessText(view: ReadinessView, units: UnitSystem): string {
  const { pace } = view;
  const limits = view.limits.map((limit) => item(limit.text));
  const { detraining } = view;
  return [
    `What ${view.cohort.name} has shown · ${view.date} · for leaders only`,
    table(shownRows(view, units).map((row) => ['', ...row])),
    ...(limits.length > 0 ? ['', 'Who would raise it (not for others to see)', ...limits] : []),
    '',
    `Pace from ${plural(pace.clockedOutings, 'outing')} with walking times`,
    `  going up    ${speedText(pace.upOfPrior)}`,
    `  going down  ${speedText(pace.downOfPrior)}, or DIN 33466 where that is slower`,
    `  doubt       8 days in 10 within ${percentText(pace.relativeWidth / 2)} either way of the time of a plain mountain day`,
    `  stops       ${Math.round(view.stopsMinPerHour)} min an hour, meals aside`,
    ...(pace.strongestPull === null
      ? []
      : [
          `  the outing of ${pace.strongestPull.date} pulls most: without it the time would change by ${percentText(Math.abs(pace.strongestPull.share))}`,
        ]),
    ...(pace.isWellConditioned || pace.clockedOutings === 0
      ? []
      : ['  kilometres and metres are told apart mostly by the rule: the outings are too much alike']),
    item(
      `next, to know it better: ${pace.sharpenBy.text}; it would narrow the doubt by ${percentText(pace.sharpenBy.narrowsBy)}`,
    ),
    '',
    wrapped(
      `Detraining: what was shown falls by up to ${percentText(detraining.lossMax)} over the weeks (time constant ${detraining.lossDays} days) and fades out after ${detraining.windowDaysMinor} days for minors, ${detraining.windowDaysAdult} for adults.`,
      '',
    ),
    ...(view.toCheck.length > 0 ? [wrapped(`to check: ${view.toCheck.join('; ')}`, '', 100, '  ')] : []),
  ].join('\n');
}

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
