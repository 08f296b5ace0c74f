import type { SeasonRequest } from '../../ingest/season-file.ts';
import type { SeasonBoard, SeasonCohort } from '../../season/season.ts';
import { CLEARANCE_TEXT } from '../../text/stated-words.ts';
import { plural } from '../../text/words.ts';

function limitText(limit: NonNullable<SeasonRequest['limits']>[number]): string {
  const { trailhead, who, partiesPerDay, groupSizeLimit, parkingSpaces } = limit;
  const parts = [
    partiesPerDay == null ? null : `${plural(partiesPerDay, 'party', 'parties')} a day`,
    groupSizeLimit == null ? null : `${plural(groupSizeLimit, 'person', 'people')} in a party`,
    parkingSpaces == null ? null : plural(parkingSpaces, 'parking space'),
  ];
  return `${trailhead ?? who}: ${parts.filter((part) => part !== null).join(', ')}`;
}

/** What a board was made for, so that a print says it too: names, and what is asked by them. */
export function askedRows(
  { question }: SeasonBoard,
  { limits }: SeasonRequest,
  today: string,
): readonly (readonly [name: string, text: string])[] {
  const { cohorts, dates, routes, vehicles } = question;
  const each = (text: (cohort: SeasonCohort, name: string) => string | null) =>
    cohorts.flatMap((one) => text(one, one.record.cohort.name) ?? []).join('; ');
  const shared = (vehicles ?? []).map(({ name, seats, clearance }) => {
    const kind = clearance === 'any' ? '' : `, ${CLEARANCE_TEXT[clearance]}`;
    return `${name} (${plural(seats, 'seat')}${kind})`;
  });
  const rows: readonly (readonly [string, string])[] = [
    ['Routes looked at', `${routes.length}`],
    ['Vehicles', vehicles === null ? 'every cohort in its own' : shared.join('; ')],
    [
      'In its own vehicles',
      vehicles === null ? '' : each(({ hasOwnVehicles }, name) => (hasOwnVehicles ? name : null)),
    ],
    [
      'Days off',
      each(({ notOn }, name) => (notOn.size === 0 ? null : `${name} not on ${[...notOn].join(', ')}`)),
    ],
    ['Leaders', each(({ ledBy }, name) => (ledBy.length === 0 ? null : `${ledBy.join(', ')} with ${name}`))],
    ['Limits', (limits ?? []).map(limitText).join('; ')],
    ['These days have passed', dates.filter((date) => date < today).join(', ')],
  ];
  return rows.filter(([, text]) => text !== '');
}
