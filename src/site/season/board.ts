import type { SeasonRequest } from '../../ingest/season-file.ts';
import { type PlacedParty, partyOf, type SeasonBoard, type SeasonCohort } from '../../season/season.ts';
import { questionText } from '../../text/criteria/index.ts';
import { questionsOf, reasonsOf } from '../../text/fit-words.ts';
import { aloneText, boardText, notKnownTexts, partyTimes, unplacedTexts } from '../../text/season-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { plural, weekdayText } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { closestText, markOf } from '../cohort/shortlist-rows.ts';
import { CLEARANCES } from '../field.tsx';
import type { SeasonBoardView, SeasonParty } from './state.ts';

const peopleOf = (cohort: SeasonCohort): string => plural(partyOf(cohort), 'person', 'people');

const namedOf = ({ id, record }: SeasonCohort) => ({ id: id ?? '', name: record.cohort.name });

function partyView(party: PlacedParty, board: SeasonBoard, units: UnitSystem): SeasonParty {
  const { cohort, route, fit, vehicles } = party;
  const marks = fit.judgements.map(markOf);
  return {
    cohort: namedOf(cohort),
    people: peopleOf(cohort),
    route: { id: route.id ?? '', name: route.route.name },
    trailhead: route.route.attributes.trailhead?.name ?? null,
    verdict: fit.verdict,
    verdictText: VERDICT_TEXT[fit.verdict],
    score: fit.score.toFixed(2),
    vehicles: vehicles === null ? 'its own' : vehicles.map(({ name }) => name).join(', '),
    ...partyTimes(party),
    marks,
    closest: closestText(marks),
    reasons: reasonsOf(fit, units).map(({ names, verdict, reason }) => ({
      question: names.map(questionText).join(', '),
      verdict,
      text: reason,
    })),
    alone: aloneText(party, board),
    toCheck: questionsOf(fit, units),
  };
}

const kindText = (clearance: string): string =>
  clearance === 'any' ? '' : `, ${CLEARANCES.find(([key]) => key === clearance)?.[1]}`;

const limitText = (limit: NonNullable<SeasonRequest['limits']>[number]): string => {
  const { trailhead, who, partiesPerDay, groupSizeLimit, parkingSpaces } = limit;
  const parts = [
    partiesPerDay == null ? null : `${plural(partiesPerDay, 'party', 'parties')} a day`,
    groupSizeLimit == null ? null : `${plural(groupSizeLimit, 'person', 'people')} in a party`,
    parkingSpaces == null ? null : plural(parkingSpaces, 'parking space'),
  ];
  return `${trailhead ?? who}: ${parts.filter((part) => part !== null).join(', ')}`;
};

/** What a board was made for, so that a print says it too. */
function askedOf({ question }: SeasonBoard, asked: SeasonRequest, today: string): SeasonBoardView['asked'] {
  const { cohorts, dates, routes, vehicles } = question;
  const limits = asked.limits ?? [];
  const passed = dates.filter((date) => date < today);
  const list = (texts: readonly string[]) => texts.join('; ');
  const each = (text: (cohort: SeasonCohort) => string | null) =>
    list(cohorts.flatMap((cohort) => text(cohort) ?? []));
  return [
    ['Routes looked at', `${routes.length}`] as const,
    [
      'Vehicles',
      vehicles === null
        ? 'every cohort in its own'
        : list(
            vehicles.map(
              ({ name, seats, clearance }) => `${name} (${plural(seats, 'seat')}${kindText(clearance)})`,
            ),
          ),
    ] as const,
    [
      'In its own vehicles',
      vehicles === null ? '' : each((of) => (of.hasOwnVehicles ? namedOf(of).name : null)),
    ] as const,
    [
      'Days off',
      each((of) => (of.notOn.size === 0 ? null : `${namedOf(of).name} not on ${[...of.notOn].join(', ')}`)),
    ] as const,
    [
      'Leaders',
      each((of) => (of.ledBy.length === 0 ? null : `${of.ledBy.join(', ')} with ${namedOf(of).name}`)),
    ] as const,
    ['Limits', list(limits.map(limitText))] as const,
    ['These days have passed', passed.join(', ')] as const,
  ].filter(([, text]) => text !== '');
}

/** The board of a season as its page has it. */
export function seasonBoardView(
  board: SeasonBoard,
  asked: SeasonRequest,
  today: string,
  units: UnitSystem,
): SeasonBoardView {
  const { question, placed, unplaced } = board;
  const days = question.dates.map((date) => ({
    date,
    dateText: weekdayText(date),
    parties: placed.filter((party) => party.date === date).map((party) => partyView(party, board, units)),
  }));
  return {
    text: boardText(board),
    asked: askedOf(board, asked, today),
    days: days.filter(({ parties }) => parties.length > 0),
    nobodyOn: days.filter(({ parties }) => parties.length === 0).map(({ date }) => date),
    unplaced: unplaced.map((one) => ({
      cohort: namedOf(one.cohort),
      people: peopleOf(one.cohort),
      texts: unplacedTexts(one, board, units),
    })),
    notKnown: [
      ...notKnownTexts(board),
      ...(question.vehicles === null
        ? []
        : [
            'The cohorts’ own vehicles: the board judges each route by those of the program that are given out, the pages of a cohort by its own.',
          ]),
    ],
  };
}
