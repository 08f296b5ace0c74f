import { MEANING_OF_FITS } from '../text/cautions.ts';
import { VERDICT_TEXT } from '../text/verdict-words.ts';
import { climbText, lengthText } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import type { LadderView } from '../views/training-view.ts';
import { heightsLines } from './heights-lines.ts';
import { item, wrapped } from './table.ts';
import { wrappedTable } from './wrapped-table.ts';

/** A ladder of routes for people. */
export function ladderText(ladder: LadderView, cohortName: string, units: UnitSystem): string {
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
