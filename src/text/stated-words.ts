import type { RouteAttributes } from '../ingest/attributes.ts';
import type { UnitSystem } from '../units.ts';
import { heightText, lengthText, plural, seasonDayText } from './words.ts';

/** What people call the vehicles that a road needs. */
export const CLEARANCE_TEXT = {
  any: 'any car',
  high: 'high clearance',
  fourWheel: 'four-wheel drive',
} as const;

type StatedRow = readonly [name: string, value: string | null];

const spanText = (from: string, to: string): string => `${seasonDayText(from)} to ${seasonDayText(to)}`;

function closuresText({ closures }: RouteAttributes): string | null {
  if (closures == null || closures.length === 0) return null;
  return closures
    .map(({ from, to, reason }) => `${spanText(from, to)}${reason == null ? '' : ` (${reason})`}`)
    .join('; ');
}

function permitText({ permit }: RouteAttributes): string | null {
  const { who = null, partiesPerDay = null } = permit ?? {};
  if (who === null && partiesPerDay === null) return null;
  const few = partiesPerDay === null ? [] : [`${plural(partiesPerDay, 'party', 'parties')} a day`];
  return [who ?? 'needed', ...few].join(', ');
}

function openText({ openGround, openAboveM }: RouteAttributes, units: UnitSystem): string | null {
  if (openAboveM != null) return `above ${heightText(openAboveM, units)}`;
  return openGround ?? null;
}

/** What somebody has stated of a route, in words with units and in the order in which it is shown; `null`: not stated. */
export function statedRows(attributes: RouteAttributes, units: UnitSystem): readonly StatedRow[] {
  const { rockClass, surface, scrambleM, treelineM, season, groupSizeLimit, trailhead, notes } = attributes;
  const clearance = trailhead?.roadClearance;
  const { waterPoints, waysOut } = attributes;
  const count = (list: readonly unknown[] | null | undefined, one: string, many: string) =>
    list == null || list.length === 0 ? null : plural(list.length, one, many);
  return [
    ['rock class', rockClass ?? null],
    ['surface', surface ?? null],
    ['needs hands', scrambleM == null ? null : scrambleM === 0 ? 'nowhere' : lengthText(scrambleM, units)],
    ['treeline', treelineM == null ? null : heightText(treelineM, units)],
    ['open ground below treeline', openText(attributes, units)],
    ['season', season == null ? null : spanText(season.from, season.to)],
    ['closures', closuresText(attributes)],
    ['largest party', groupSizeLimit == null ? null : `${groupSizeLimit}, leaders counted`],
    ['permit', permitText(attributes)],
    ['time zone', attributes.timeZone ?? null],
    ['trailhead', trailhead?.name ?? null],
    ['the road needs', clearance == null ? null : CLEARANCE_TEXT[clearance]],
    [
      'road from the meeting place',
      trailhead?.roadKm == null ? null : lengthText(trailhead.roadKm * 1000, units),
    ],
    ['drive', trailhead?.roadMin == null ? null : `${trailhead.roadMin} min`],
    ['state of the road', trailhead?.roadStatus ?? null],
    ['parking', trailhead?.parkingSpaces == null ? null : plural(trailhead.parkingSpaces, 'space')],
    ['pick-up at the end', attributes.pickUp ?? null],
    ['water', count(waterPoints, 'place', 'places')],
    ['ways out', count(waysOut, 'place', 'places')],
    ['notes', notes ?? null],
  ];
}

/** What is said otherwise than before: `rock class: 2+, before 1`. */
export function statedChanges(before: RouteAttributes, now: RouteAttributes, units: UnitSystem): string[] {
  const old = new Map(statedRows(before, units));
  return statedRows(now, units)
    .filter(([name, value]) => value !== (old.get(name) ?? null))
    .map(([name, value]) => `${name}: ${value ?? 'not stated'}, before ${old.get(name) ?? 'not stated'}`);
}
