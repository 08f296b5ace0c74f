import { type PlacedParty, partyOf, type SeasonBoard } from '../season/season.ts';
import { MEANING_OF_FITS } from '../text/cautions.ts';
import { questionsOf } from '../text/fit-words.ts';
import {
  aloneText,
  boardText,
  notKnownTexts,
  PARTY_TIMES_READ,
  partyTimes,
  unplacedTexts,
} from '../text/season-words.ts';
import { VERDICT_TEXT } from '../text/verdict-words.ts';
import { plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { boardAttribution } from '../views/season-view.ts';
import { heightsLines } from './heights-lines.ts';
import { item, wrapped } from './table.ts';
import { wrappedTable } from './wrapped-table.ts';

const HEAD = ['cohort', 'people', 'route', 'from', 'verdict', 'score', 'vehicles', 'start by', 'back by'];

function row(party: PlacedParty): string[] {
  const { cohort, route, fit, vehicles } = party;
  const { startBy, backBy } = partyTimes(party);
  return [
    cohort.record.cohort.name,
    String(partyOf(cohort)),
    route.route.name,
    route.route.attributes.trailhead?.name ?? 'not stated',
    VERDICT_TEXT[fit.verdict],
    fit.score.toFixed(2),
    vehicles === null ? 'its own' : vehicles.map(({ name }) => name).join(', '),
    startBy ?? '–',
    backBy ?? '–',
  ];
}

/** What a coordinator asks next: what the cohort gave up for the others, and what is to be checked. */
function below(party: PlacedParty, board: SeasonBoard, units: UnitSystem): string[] {
  const { name } = party.cohort.record.cohort;
  const toCheck = questionsOf(party.fit, units);
  const alone = aloneText(party, board);
  return [
    ...(alone === null ? [] : [`${name}, were it alone: ${alone}`]),
    ...(toCheck.length === 0 ? [] : [`${name}, to check: ${toCheck.join('; ')}`]),
  ];
}

/** A season board for people. */
export function seasonText(board: SeasonBoard, units: UnitSystem): string {
  const { question, placed, unplaced } = board;
  const { name, cohorts, dates, routes } = question;
  const size = [
    plural(cohorts.length, 'cohort'),
    plural(dates.length, 'date'),
    plural(routes.length, 'route'),
  ];
  const days = dates.flatMap((date) => {
    const parties = placed.filter((party) => party.date === date);
    if (parties.length === 0) return ['', `${date}: nobody`];
    return [
      '',
      date,
      ...wrappedTable([HEAD, ...parties.map(row)], 100, '  '),
      ...parties.flatMap((party) => below(party, board, units)).map(item),
    ];
  });
  const without = unplaced.flatMap((one) => [
    '',
    `No day: ${one.cohort.record.cohort.name} (${plural(partyOf(one.cohort), 'person', 'people')})`,
    ...unplacedTexts(one, board, units).map((text) => wrapped(text, '  ')),
  ]);
  return [
    `${name ?? 'Season'} · ${size.join(', ')}`,
    wrapped(boardText(board), '', 100, '  '),
    ...days,
    ...without,
    '',
    'What the board does not know',
    ...notKnownTexts(board).map(item),
    item(`${PARTY_TIMES_READ} ${MEANING_OF_FITS}`),
    ...heightsLines(boardAttribution(board)),
  ].join('\n');
}
