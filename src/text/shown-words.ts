import type { UnitSystem } from '../units.ts';
import type { ReadinessView } from '../views/readiness-view.ts';
import { climbText, heightText, lengthText, percentText, plural, workText } from './words.ts';

/** What a cohort has shown: quantity, what it comes to on the date, and from which day. */
export function shownRows(
  view: Pick<ReadinessView, 'distanceM' | 'gainM' | 'effortKj' | 'rockClass' | 'highestM'>,
  units: UnitSystem,
): readonly (readonly [name: string, value: string, from: string])[] {
  const row = (name: string, shown: ReadinessView['distanceM'], text: (value: number) => string) =>
    shown === null
      ? ([name, 'nothing yet', ''] as const)
      : ([
          name,
          text(shown.value),
          `${text(shown.asWalked)} on ${shown.date}, ${plural(shown.daysBefore, 'day')} before`,
        ] as const);
  return [
    row('distance', view.distanceM, (value) => lengthText(value, units)),
    row('climb', view.gainM, (value) => climbText(value, units)),
    row('work of a day', view.effortKj, workText),
    ['rock class', view.rockClass ?? 'nothing yet', ''],
    ['highest point', view.highestM === null ? 'not known' : heightText(view.highestM, units), ''],
  ];
}

/** A pace beside the trade rule's: `28 % less time than the trade rule`. */
export function speedText(ofPrior: number): string {
  const share = Math.abs(ofPrior - 1);
  if (share < 0.03) return 'as the trade rule';
  return `${percentText(share)} ${ofPrior < 1 ? 'less' : 'more'} time than the trade rule`;
}
