import { readSeasonFile, type SeasonFile } from '../../app/files.ts';
import type { Ground } from '../../app/measure.ts';
import { cohortRecordOf } from '../../app/recordings.ts';
import { seasonBoard, seasonCohort, seasonQuestion } from '../../app/season.ts';
import { solveBoard } from '../../app/solve-board.ts';
import { inFile } from '../../errors.ts';
import type { Route } from '../../route/describe-route.ts';
import { type PlacedParty, partyOf, type SeasonBoard, type SeasonCohort } from '../../season/season.ts';
import { MEANING_OF_FITS } from '../../text/cautions.ts';
import { questionsOf } from '../../text/fit-words.ts';
import {
  aloneText,
  boardText,
  notKnownTexts,
  PARTY_TIMES_READ,
  partyTimes,
  unplacedTexts,
} from '../../text/season-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { plural } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { boardAttribution, seasonView } from '../../views/season-view.ts';
import { progressOf } from '../progress.ts';
import { heightsLines, item, wrapped } from '../table.ts';
import { DEM, groundCommand, jsonText, needed, readRoutes } from '../terminal.ts';
import { wrappedTable } from '../wrapped-table.ts';

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
function seasonText(board: SeasonBoard, units: UnitSystem): string {
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

export const seasonCommand = groundCommand<{ routes: string[] }, string>({
  name: 'season',
  description: 'a date and a route for each of many cohorts, within shared vehicles, permits and parking',
  argument: ['<file>', 'season file'],
  options: [needed('--routes <path...>', 'GPX or GeoJSON files, or folders'), DEM],
  formats: ['text', 'json'],
  async print(ground, { routes: paths, format, units }, path) {
    const file = await readSeasonFile(path);
    const routes = await readRoutes(paths, ground);
    const board = await boardOf(path, file, routes, ground);
    return format === 'json' ? jsonText(seasonView(board, ground.design, units)) : seasonText(board, units);
  },
});

/** The board of a season file; `path` is where it lies, for errors. */
async function boardOf(
  path: string,
  { season, readTrack }: SeasonFile,
  routes: readonly Route[],
  ground: Ground,
): Promise<SeasonBoard> {
  const cohorts: SeasonCohort[] = [];
  for (const { file, cohort, ...terms } of season.cohorts) {
    const record = await cohortRecordOf(cohort, (track) => readTrack(file, track), ground);
    cohorts.push(seasonCohort(record, null, terms));
  }
  return inFile(path, async () => {
    const question = seasonQuestion(season, {
      routes: routes.map((route) => ({ route, id: null })),
      cohorts,
    });
    const progress = progressOf(cohorts.length * question.dates.length, 'ranking');
    try {
      return await seasonBoard(question, ground.design, { solve: solveBoard, step: progress.step });
    } finally {
      progress.stop();
    }
  });
}
