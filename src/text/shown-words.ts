import type { Shown } from '../capability/demonstrated.ts';
import type { PaceDiagnostics } from '../capability/pace-diagnostics.ts';
import type { PredictionRecord } from '../capability/prediction-record.ts';
import type { Limit } from '../capability/who-limits.ts';
import type { UnitSystem } from '../units.ts';
import { climbText, heightText, lengthText, listed, percentText, plural, workText } from './words.ts';

interface ShownParts {
  readonly distanceM: Shown | null;
  readonly gainM: Shown | null;
  readonly effortKj: Shown | null;
  readonly rockClass: string | null;
  readonly highestM: number | null;
}

/** What a cohort has shown: quantity, what it comes to on the date, and from which day. */
export function shownRows(
  view: ShownParts,
  units: UnitSystem,
): readonly (readonly [name: string, value: string, from: string])[] {
  const row = (name: string, shown: Shown | null, text: (value: number) => string) =>
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

const DAY: Record<Limit['quantity'], string> = {
  distanceM: 'long day',
  gainM: 'big climb',
  effortKj: 'full day',
  rockClass: 'day on rock',
};

/** Who limits what the group has shown, worded as help. */
export const limitText = ({ quantity, labels, hasNone }: Limit): string =>
  hasNone
    ? `${listed(labels)} ${labels.length === 1 ? 'has' : 'have'} no ${DAY[quantity]} yet`
    : `a ${DAY[quantity]} with ${listed(labels)} would raise what the whole group has shown`;

const KIND: Record<PaceDiagnostics['sharpenBy']['kind'], string> = {
  level: 'a long level day',
  steep: 'a short steep day',
  long: 'a long day with a climb',
};

/** The day that would tell most about a group's pace. */
export const sharpenText = ({ kind, tradeMin }: PaceDiagnostics['sharpenBy']): string =>
  `${KIND[kind]}, about ${Math.round(tradeMin / 60)} h by the trade rule, with a clock`;

/** Fewer days than this say little of a coverage: with 10 the interval is still about 0.45 wide (design). */
const FEW_DAYS = 10;

/** What a season's predictions were worth, in a sentence. */
export function predictionText(record: PredictionRecord): string {
  const { n, inside80, laterThanP90, coverage, medianRatio, tendency } = record;
  if (coverage === null || medianRatio === null) {
    return 'no day yet with a climb and a moving time to set beside a prediction';
  }
  const share = `${inside80} of ${plural(n, 'day')} inside the range that should hold 8 in 10 (the share is between ${percentText(coverage.low)} and ${percentText(coverage.high)} with 95 % confidence)`;
  const late = `${laterThanP90} later than the late time, where 1 in 10 should be`;
  const off = percentText(Math.abs(medianRatio - 1));
  const way =
    tendency === 'slower'
      ? `the group tends to be slower than predicted, by ${off} in the middle: the unsafe side, leave more time`
      : tendency === 'faster'
        ? `the group tends to be quicker than predicted, by ${off} in the middle`
        : 'in the middle the days took what was predicted';
  const few = n < FEW_DAYS ? `${plural(n, 'day')} ${n === 1 ? 'says' : 'say'} little. ` : '';
  return `${few}${share}; ${late}; ${way}.`;
}
