import type { AgeBand, Design } from '../design.ts';
import { durationText, plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { leastLeaders } from './party.ts';
import { type SummitCold, summitCold } from './summit-cold.ts';

/** The ten essentials as systems (common practice), and what a party needs beyond them. */
export type KitSystem =
  | 'navigation'
  | 'headlamp'
  | 'sun'
  | 'firstAid'
  | 'repair'
  | 'fire'
  | 'shelter'
  | 'food'
  | 'water'
  | 'clothes'
  | 'party'
  | 'terrain';

export const TEN_ESSENTIALS: readonly KitSystem[] = [
  'navigation',
  'headlamp',
  'sun',
  'firstAid',
  'repair',
  'fire',
  'shelter',
  'food',
  'water',
  'clothes',
];

export interface KitItem {
  readonly system: KitSystem;
  readonly what: string;
  /** What this day asks of it, with its figure. */
  readonly why: string;
  /** Carried by each person, once for the group, or by an adult. */
  readonly who: 'each' | 'group' | 'adult';
  /** In the whole party. */
  readonly count: number;
}

export interface KitQuestion {
  /** Leaders `null`: not stated; as many as the program asks for at least are counted. */
  readonly party: { readonly participants: number; readonly leaders: number | null };
  /** `null`: not stated; the rules for minors hold. */
  readonly ageBand: AgeBand | null;
  readonly rockClass: string | null;
  readonly surface: 'trail' | 'rough' | 'talus' | 'snow' | null;
  readonly dayMin: { readonly p10: number; readonly p50: number; readonly p90: number };
  readonly headlampMin: { readonly p50: number; readonly p90: number };
  readonly highM: number | null;
  readonly trailheadM: number | null;
  /** 0: all of it lies below treeline; `null`: not known. */
  readonly aboveTreelineMin: number | null;
  /** Whether the line crosses or runs under ground of 30 to 50 degrees; `null`: not known. */
  readonly steep30to50: boolean | null;
  /** 1 to 12. */
  readonly month: number;
  /** Latitude of the route, for its season; missing or `null`: not known, any season may be the cold one. */
  readonly latDeg?: number | null;
  /** Expected at the trailhead at the hour of the summit, °C; missing or `null`: no forecast. */
  readonly trailheadC?: number | null;
}

/** What the items of one day are worked out from. */
export interface KitDay {
  readonly question: KitQuestion;
  readonly people: number;
  readonly lateMin: number;
  readonly minors: boolean;
  /** Where an adult carries it because minors go. */
  readonly keeper: 'group' | 'adult';
  readonly summit: SummitCold | null;
  readonly isColdHalf: boolean;
  readonly maySnow: boolean;
  readonly design: Design;
  readonly units: UnitSystem;
}

/** Whether snow may lie on the day: stated for the way, or in the half of the year that has it. */
export const maySnowLie = (surface: KitQuestion['surface'], month: number, latDeg: number | null): boolean =>
  surface === 'snow' || coldHalf(month, latDeg);

/** The half of the year in which snow and cold are likely; where the hemisphere is not known, all of it. */
function coldHalf(month: number, latDeg: number | null): boolean {
  const isWinterNorth = month <= 4 || month >= 11;
  return latDeg === null || isWinterNorth === latDeg >= 0;
}

/** `11 people`. */
export const partyText = ({ people }: KitDay): string => plural(people, 'person', 'people');
/** The whole of a late day: `9 h 20 min`. */
export const lateText = ({ lateMin }: KitDay): string => durationText(lateMin);
/** How many of something that serves so many people. */
export const shared = (people: number, perOne: number): number => Math.max(1, Math.ceil(people / perOne));

/** How long the way lies open to wind and sun. */
export function openGroundText({ question }: KitDay): string {
  const minutes = question.aboveTreelineMin;
  if (minutes === null) return 'not known is how long the way lies above treeline, so it counts as long';
  return minutes === 0 ? 'no ground above treeline' : `${durationText(minutes)} above treeline`;
}

/**
 * A day's question with what follows from it: the party, the season and the cold.
 * @throws RangeError on counts of people, times or a month that are none.
 */
export function kitDay(question: KitQuestion, design: Design, units: UnitSystem): KitDay {
  const { party, month, dayMin, surface } = question;
  const { ageBand } = question;
  const people = party.participants + (party.leaders ?? leastLeaders({ ...party, ageBand }, design).whole);
  if (!Number.isInteger(people) || people < 1) throw new RangeError(`a party of ${people} is no party`);
  if (!Number.isInteger(month) || month < 1 || month > 12) throw new RangeError(`month ${month} is none`);
  if (!(dayMin.p90 >= 0)) throw new RangeError(`a day of ${dayMin.p90} min is not 0 or more`);
  const minors = ageBand !== 'adult';
  const isColdHalf = coldHalf(month, question.latDeg ?? null);
  const { highM, trailheadM, trailheadC = null } = question;
  return {
    question,
    people,
    lateMin: dayMin.p90,
    minors,
    keeper: minors ? 'adult' : 'group',
    summit: summitCold({ highM, trailheadM, trailheadC }, design.cards.windKmPerH),
    isColdHalf,
    maySnow: maySnowLie(surface, month, question.latDeg ?? null),
    design,
    units,
  };
}
