import type { ReadinessView } from '../fit/readiness-view.ts';
import { climbText, heightText, lengthText, percentText, plural, workText } from '../fit/words.ts';
import type { UnitSystem } from '../units.ts';
import { table, wrapped } from './table.ts';

const speedText = (ofPrior: number): string => {
  const share = Math.abs(ofPrior - 1);
  if (share < 0.03) return 'as the trade rule';
  return `${percentText(share)} ${ofPrior < 1 ? 'less' : 'more'} time than the trade rule`;
};

/** What a cohort has shown, for its leaders: the one place where labels are named. */
export function readinessText(view: ReadinessView, units: UnitSystem): string {
  const { pace } = view;
  const row = (name: string, shown: ReadinessView['distanceM'], text: (value: number) => string): string[] =>
    shown === null
      ? ['', name, 'nothing yet', '']
      : [
          '',
          name,
          text(shown.value),
          `${text(shown.asWalked)} on ${shown.date}, ${plural(shown.daysBefore, 'day')} before`,
        ];
  const limits = view.limits.map((limit) => wrapped(limit.text, '  ', 100, '    '));
  const { detraining } = view;
  return [
    `What ${view.cohort.name} has shown · ${view.date} · for leaders only`,
    table([
      row('distance', view.distanceM, (value) => lengthText(value, units)),
      row('climb', view.gainM, (value) => climbText(value, units)),
      row('work of a day', view.effortKj, workText),
      ['', 'rock class', view.rockClass ?? 'nothing yet', ''],
      ['', 'highest point', view.highestM === null ? 'not known' : heightText(view.highestM, units), ''],
    ]),
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
    wrapped(
      `next, to know it better: ${pace.sharpenBy.text}; it would narrow the doubt by ${percentText(pace.sharpenBy.narrowsBy)}`,
      '  ',
      100,
      '    ',
    ),
    '',
    wrapped(
      `Detraining: what was shown falls by up to ${percentText(detraining.lossMax)} over the weeks (time constant ${detraining.lossDays} days) and fades out after ${detraining.windowDaysMinor} days for minors, ${detraining.windowDaysAdult} for adults.`,
      '',
    ),
    ...(view.toCheck.length > 0 ? [wrapped(`to check: ${view.toCheck.join('; ')}`, '', 100, '  ')] : []),
  ].join('\n');
}
