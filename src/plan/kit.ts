import { coldDayOn, hotDayOn, snowOn } from '../day/season.ts';
import type { Design } from '../design.ts';
import { type YearOfPlace, yearAt } from '../earth/climate.ts';
import { isRealDate } from '../earth/local-time.ts';
import {
  colderByK,
  DRY_LAPSE_K_PER_M,
  standardTemperatureC,
  windChillC,
} from '../earth/standard-temperature.ts';
import { rockClassValue } from '../ingest/rock-class.ts';
import { areMinors, leastLeaders, type PlanParty } from '../rank/party.ts';

/** How cold the top may be, for choosing layers. */
export interface SummitCold {
  readonly highM: number;
  /** Colder at the top than at the trailhead, K: by the mean lapse, and in dry, well mixed air; `null`: not known. */
  readonly colderK: { readonly mean: number; readonly dry: number } | null;
  /** A cold day there by latitude, height and date, °C, no forecast; where the latitude is not known, the standard atmosphere. */
  readonly coldC: number;
  /** How that feels in the planned wind, °C; `null`: too warm for the index. */
  readonly feelsC: number | null;
}

function summitCold(
  highM: number,
  { trailheadM, date }: KitQuestion,
  year: YearOfPlace | null,
  { cards, climate }: Design,
): SummitCold {
  const colderK =
    trailheadM === null
      ? null
      : { mean: colderByK(trailheadM, highM), dry: colderByK(trailheadM, highM, DRY_LAPSE_K_PER_M) };
  const coldC = year === null ? standardTemperatureC(highM) : coldDayOn(date, climate)(year, highM);
  return { highM, colderK, coldC, feelsC: windChillC(coldC, cards.windKmPerH) };
}

/** The ten essentials as systems (common practice). */
export const TEN_ESSENTIALS = [
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
] as const;

type KitSystem = (typeof TEN_ESSENTIALS)[number] | 'party' | 'terrain';

/** What the thing is; it is put into words in `document/kit-text.ts`. */
export type KitCode =
  | 'map'
  | 'receiver'
  | 'headlamp'
  | 'spareLamp'
  | 'sun'
  | 'firstAid'
  | 'blisters'
  | 'medicines'
  | 'repair'
  | 'fire'
  | 'shelter'
  | 'sitPad'
  | 'extraFood'
  | 'extraWater'
  | 'treatment'
  | 'layers'
  | 'secondLayer'
  | 'whistle'
  | 'phone'
  | 'toilet'
  | 'keys'
  | 'helmet'
  | 'grip'
  | 'avalanche';

export interface KitItem {
  readonly code: KitCode;
  readonly system: KitSystem;
  /** Carried by each person, once for the group, or by an adult. */
  readonly who: 'each' | 'group' | 'adult';
  readonly count: number;
}

export interface KitQuestion {
  /** Leaders not stated: as many as the program asks for at least are counted; age not stated: the rules for minors. */
  readonly party: PlanParty;
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
  /** Lowest point of the line; `null`: not known. */
  readonly lowM: number | null;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  /** Of the route, for its season; `null`: not known, any season may be the cold one. */
  readonly latDeg: number | null;
}

export interface Kit {
  /** In the order of the ten essentials, then what goes beyond them. */
  readonly items: readonly KitItem[];
  readonly question: KitQuestion;
  readonly people: number;
  /** `null`: height not known. */
  readonly summit: SummitCold | null;
  /** Whether a cold day of the date freezes at the foot. */
  readonly isFrosty: boolean;
  /** The afternoon of a hot day at the foot, °C, where that is a day for dawn and shade; `null`: it is not. */
  readonly hotDayC: number | null;
  readonly maySnow: boolean;
  /** What one charge of a phone is counted as, hours, whether that is the cold's, and the charges to take along. */
  readonly phone: { readonly hours: number; readonly isCold: boolean; readonly charges: number };
}

/** From this class on hands are needed, and stones fall on heads. */
const HELMET_CLASS = 3;

/** Snow, frost and heat that the date may bring; where latitude or height is not known, snow and frost. */
function seasonOf({ surface, latDeg, highM, lowM, date }: KitQuestion, { climate }: Design) {
  const year = latDeg === null ? null : yearAt(latDeg);
  const hotC = year === null || lowM === null ? null : hotDayOn(date, climate)(year, lowM);
  return {
    year,
    maySnow: surface === 'snow' || year === null || highM === null || snowOn(date, climate)(year, highM),
    isFrosty: year === null || coldDayOn(date, climate)(year, lowM ?? highM ?? 0) <= 0,
    hotDayC: hotC !== null && hotC >= climate.hotFromC ? hotC : null,
  };
}

/**
 * The kit of a party for one day: what, who carries it and how many, and what it rests on. What is not known counts as
 * the harder case. Fire, knife, first aid and medicines are with an adult where minors go (or where the age is not
 * stated); which medicines is the program's policy, never said here. The list is common practice, no source; the
 * numbers to a party are design.
 * @throws RangeError on a party, time or date that is none.
 */
export function kit(question: KitQuestion, design: Design): Kit {
  const { party, date, dayMin, surface, rockClass, steep30to50, highM } = question;
  const people = party.participants + (party.leaders ?? leastLeaders(party, design).whole);
  if (!Number.isInteger(people) || people < 1) throw new RangeError(`a party of ${people} is no party`);
  if (!isRealDate(date)) throw new RangeError(`${date} is no date`);
  if (!(dayMin.p90 >= 0)) throw new RangeError(`a day of ${dayMin.p90} min is not 0 or more`);
  const minors = areMinors(party);
  const keeper = minors ? 'adult' : 'group';
  const { year, maySnow, isFrosty, hotDayC } = seasonOf(question, design);
  const summit = highM === null ? null : summitCold(highM, question, year, design);
  const settings = design.kit;
  const isColdTop = summit === null || summit.coldC <= settings.coldC;
  const isCold = isFrosty || isColdTop;
  const hours = isCold ? settings.phoneHoursCold : settings.phoneHours;
  /** How many of something that serves so many people. */
  const shared = (perOne: number): number => Math.max(1, Math.ceil(people / perOne));
  const item = (code: KitCode, system: KitSystem, who: KitItem['who'], count: number): KitItem => {
    return { code, system, who, count };
  };
  const each = (code: KitCode, system: KitSystem): KitItem => item(code, system, 'each', people);
  const when = (is: boolean, found: KitItem): KitItem[] => (is ? [found] : []);
  // "3-" is still class 3 ground.
  const needsHelmet = rockClass === null || Math.round(rockClassValue(rockClass)) >= HELMET_CLASS;
  return {
    items: [
      item('map', 'navigation', 'adult', Math.max(2, party.leaders ?? 0)),
      item('receiver', 'navigation', 'adult', 2),
      each('headlamp', 'headlamp'),
      item('spareLamp', 'headlamp', keeper, shared(settings.peoplePerSpareLamp)),
      each('sun', 'sun'),
      item('firstAid', 'firstAid', keeper, shared(settings.peoplePerFirstAidKit)),
      item('blisters', 'firstAid', keeper, people * settings.blisterDressingsEach),
      ...when(minors, item('medicines', 'firstAid', 'adult', 1)),
      item('repair', 'repair', keeper, 1),
      item('fire', 'fire', keeper, 1),
      item('shelter', 'shelter', 'group', shared(settings.peoplePerShelter)),
      each('sitPad', 'shelter'),
      each('extraFood', 'food'),
      each('extraWater', 'water'),
      item('treatment', 'water', keeper, 1),
      each('layers', 'clothes'),
      ...when(isCold, each('secondLayer', 'clothes')),
      each('whistle', 'party'),
      item('phone', 'party', 'adult', 2),
      item('toilet', 'party', 'group', shared(settings.peoplePerToiletKit)),
      item('keys', 'party', 'adult', 2),
      ...when(needsHelmet, each('helmet', 'terrain')),
      ...when(surface === 'snow', each('grip', 'terrain')),
      ...when(maySnow && steep30to50 !== false, item('avalanche', 'terrain', keeper, 1)),
    ],
    question,
    people,
    summit,
    isFrosty,
    hotDayC,
    maySnow,
    phone: { hours, isCold, charges: Math.max(1, Math.ceil(dayMin.p90 / 60 / hours) - 1) },
  };
}
