import type { WaterPoint } from '../day/day-plan.ts';
import type { Design } from '../design.ts';
import type { Meal, MealKind } from '../plan/food.ts';
import type { PackLevel, Relief } from '../plan/pack.ts';
import type { Refill } from '../plan/refill.ts';
import type { Supplies } from '../plan/supplies.ts';
import {
  kcalText,
  litresPerHourText,
  litresText,
  massText,
  packText,
  temperatureText,
} from '../text/amount-text.ts';
import { durationText, heightText, lengthText, percentText, plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { citing, type Lines, TRADE } from './people-page.ts';

/** The share of body mass that a deficit of water stays under: ACSM 2007. */
const MOST_DEFICIT = 0.02;

function reasonText(
  { water, highM, warm }: Supplies,
  units: UnitSystem,
  settings: Design['supplies'],
): string {
  const rate = litresPerHourText(water.ratePerHL);
  const limit = heightText(settings.highM, units);
  const unknown = [
    ...(warm === null ? ['the forecast'] : []),
    ...(highM === null ? ['the height of the route'] : []),
  ].join(' and ');
  const reason = {
    high: `because the day goes above ${limit}`,
    warm: 'because the day is warm',
    hot: 'because it can be hot here at this time of year',
    cool: `for a cool day that stays below ${limit}`,
    notKnown: `taken because ${unknown} ${warm === null && highM === null ? 'are' : 'is'} not known`,
  }[water.because];
  const turns = water.alternatives.map(
    ({ when, ratePerHL, each }) =>
      ` ${when === 'cool' ? `If it is cool, at most ${temperatureText(20, units)}, and below ${limit}` : 'If it is warm'}: ${litresPerHourText(ratePerHL)}, ${litresText(each.packedL, units)} each.`,
  );
  return `${rate}, ${reason}.${turns.join('')}`;
}

const nameOf = (point: WaterPoint | null, atNone: string): string => (point === null ? atNone : point.name);

/** Names of the places where bottles are filled. */
const refillNames = ({ carries }: Refill): string =>
  [...new Set(carries.flatMap(({ to }) => (to === null ? [] : [nameOf(to, '')])))].join(', ');

function pointText(point: WaterPoint, units: UnitSystem): string {
  const { distanceM, afterMin } = point;
  const where = distanceM === null ? '' : `at ${lengthText(distanceM, units)}, `;
  const when =
    afterMin === null ? 'time on the way not known, so not counted' : `after ${durationText(afterMin)}`;
  const notes = point.notes === null ? '' : ` Stated: ${point.notes}`;
  return `${nameOf(point, '')}: ${where}${when}.${notes}`;
}

function refillLines(refill: Refill, supplies: Supplies, units: UnitSystem): Lines {
  const full = litresText(supplies.water.each.packedL, units);
  return [
    `All from the start: ${full} each.`,
    `With refill at ${refillNames(refill)}: ${litresText(refill.atStart.packedL, units)} each from the start, and ${litresText(refill.greatest.packedL, units)} at most at any time.`,
    ...refill.carries.map(
      ({ from, to, hours, each }) =>
        `Leave ${nameOf(from, 'the start')} with ${litresText(each.packedL, units)} each: ${durationText(60 * hours)} to ${nameOf(to, 'the end')} on a late day.`,
    ),
    'A water point is as stated and may be dry or frozen. If you are not sure of it, carry all from the start.',
  ];
}

function eachText({ water, leaderWater, load, minors }: Supplies, units: UnitSystem): string {
  const each = litresText(water.each.packedL, units);
  const drinks = load.kind === 'full' ? `carries ${each} from the start` : `needs ${each} for the day`;
  if (leaderWater === null || leaderWater.each.packedL === water.each.packedL) return `Each ${drinks}`;
  return `Each ${minors ? 'child or teenager' : 'participant'} ${drinks}, a leader ${litresText(leaderWater.each.packedL, units)}`;
}

/** The water of one participant in a line. */
export function waterShort({ water, load }: Supplies, units: UnitSystem): string {
  const each = `Water: ${litresText(water.each.packedL, units)} each`;
  return load.kind === 'full'
    ? `${each}.`
    : `${each}, ${litresText(load.startL, units)} from the start; see Water.`;
}

/** How the water is carried where all of it would be too heavy for a minor. */
function loadLines({ load, water, refill }: Supplies, units: UnitSystem, design: Design): Lines {
  const share = percentText(design.supplies.packShare.minorConflict);
  const tooMuch = `All at once makes the pack ${share} of the body or more: too heavy.`;
  const most = litresText(load.mostL, units);
  const start = litresText(load.startL, units);
  switch (load.kind) {
    case 'full':
      return [];
    case 'stated':
      return [
        `${tooMuch} Each leaves with ${start} and fills up at ${refill === null ? '' : refillNames(refill)}; ${most} at most at any time. Make sure that this water runs: if it may not, leaders carry the rest or the day is shorter.`,
      ];
    case 'planned':
      return [
        `${tooMuch} Each carries ${most} at most and fills up ${plural(load.fills, 'time')} on the way. No such water is stated: find it before the day, or leaders carry ${litresText(water.each.packedL - load.mostL, units)} for each, or choose a shorter day.`,
      ];
    case 'tooHeavy':
      return [`${tooMuch} Filling up on the way is not enough: leaders carry, or choose a shorter day.`];
  }
}

/**
 * Water for people: the number each and in all, why, what would change it, refills, treatment and the rule.
 * Figures of bottles are rounded up; the source of a rule stands with its line.
 */
export function waterLines(supplies: Supplies, units: UnitSystem, design: Design): Lines {
  const { water, participants, leaders, hours, refill, waterPoints, participant, minors, load } = supplies;
  const { least } = design.supplies.waterLPerH;
  const people = participants + (leaders ?? 0);
  const who =
    leaders === null
      ? `${plural(people, 'participant')}; how many leaders go is not stated and theirs comes on top`
      : `${plural(people, 'person', 'people')}`;
  const deficitKg = MOST_DEFICIT * participant.pack.bodyKg;
  return [
    `${eachText(supplies, units)}; ${litresText(water.party.packedL, units)} for ${who}.`,
    ...loadLines(supplies, units, design),
    ...citing(
      'design',
      `${reasonText(supplies, units, design.supplies)} For ${durationText(60 * hours)}, the late end of the day, with ${litresText(design.supplies.reserveL, units)} in reserve; nobody carries less than ${litresText(design.supplies.leastWaterL, units)}.`,
    ),
    ...citing(
      'common practice; NPS',
      `People differ: from ${litresPerHourText(Math.min(least, water.ratePerHL))} to ${litresPerHourText(Math.max(water.ratePerHL, water.mostPerHL))}, here ${litresText(water.range.lowL, units)} to ${litresText(water.range.highL, units)}. The trade says 1 to 2 L in 3 h (common practice); US National Park Service advice is a half to one quart an hour.`,
    ),
    ...citing(
      'ACSM 2007',
      `Drink a little and often, and never more than ${litresPerHourText(water.mostPerHL)}${minors ? ' at this age' : ''}: more than is sweated is itself dangerous. Losing over 2 % of body mass (${massText(deficitKg, units)} here) is too little drunk. Eat something salty with it.`,
    ),
    ...(refill === null
      ? [load.kind === 'full' ? 'No water on the way is counted: all of it comes from the start.' : null]
      : refillLines(refill, supplies, units)),
    ...waterPoints.map((point) => pointText(point, units)),
    supplies.snowOnGround === true
      ? 'Snow is not counted as water: melting it takes a stove, fuel and time.'
      : null,
    ...citing(
      'CDC, from memory',
      `Treat all natural water: filter it, boil it (1 min; 3 min above ${heightText(2000, units)}) or use a chemical as its label says; cold or cloudy water takes longer. None of these makes water below a mine or a sprayed field safe.`,
    ),
  ];
}

const MEALS: Record<MealKind, string> = {
  nightBefore: 'The night before: a full warm meal, and water with it',
  breakfast: 'Breakfast: before the drive, even if it is early',
  snacks: 'Snacks, salty and sweet, a little every hour',
  lunch: 'Lunch, in more than one stop, with protein: cheese, nuts, beans, egg or meat',
  treat: 'A treat for the top',
  emergency: 'Emergency food that nobody eats on a good day',
};

const mealText = ({ kind, kcal, kg }: Meal, units: UnitSystem): string =>
  kcal === null || kg === null
    ? `${MEALS[kind]}.`
    : `${MEALS[kind]}: ${kcalText(kcal)}, ${massText(kg, units)}.`;

/** Food for people: energy and mass each and in all, the meals, and the question about allergies. */
export function foodLines(supplies: Supplies, units: UnitSystem, design: Design): Lines {
  const { food } = supplies.participant;
  const { leader, partyFood } = supplies;
  const work =
    food.workWithMarginKcal === null
      ? 'The work of the day is not known; the hours alone count.'
      : `The work of the day is about ${kcalText(food.workWithMarginKcal)} each, with ${percentText(design.supplies.workMargin)} margin; the model was made on adults. At least ${percentText(design.supplies.leastShareOfWork)} of it is eaten on the way.`;
  const leaders =
    leader === null
      ? ''
      : ` A leader: ${kcalText(leader.food.carryKcal)}, ${massText(leader.food.carryKg, units)}.`;
  const sum = supplies.leaders === null ? 'All, without the leaders' : 'All together';
  return [
    `Each participant carries ${kcalText(food.carryKcal)} of food, ${massText(food.carryKg, units)}.${leaders} ${sum}: ${kcalText(partyFood.kcal)}, ${massText(partyFood.kg, units)}.`,
    ...citing('design; Looney 2019', `Counted for ${durationText(60 * supplies.hours)}. ${work}`),
    ...food.meals.map((meal) => mealText(meal, units)),
    // No figure is given: common practice, no source.
    ...citing(
      TRADE,
      'After the day: supper soon, with protein again.',
      'High up and in the heat many are not hungry: take what each one likes, and eat a little at every stop all the same. Whoever eats nothing is watched and asked how they feel.',
    ),
    'Ask every family about allergies and foods to avoid before you shop. The answers are not kept here.',
  ];
}

const LEVELS: Record<PackLevel, (shares: Design['supplies']['packShare'], minors: boolean) => string> = {
  withinTarget: (shares, minors) =>
    `within the target of ${percentText(minors ? shares.minorTarget : shares.adultTarget)}`,
  overTarget: ({ minorTarget }) =>
    `over the target of ${percentText(minorTarget)}; keep it as light as you can`,
  warning: (shares, minors) =>
    minors
      ? `${percentText(shares.minorWarn)} or more: too heavy for most`
      : `over the target of ${percentText(shares.adultTarget)}`,
  conflict: ({ minorConflict }) =>
    `${percentText(minorConflict)} or more: a conflict to solve before the day, and not by leaving water behind`,
};

const RELIEFS: Record<Relief['kind'], string> = {
  refill: 'Refill on the way',
  sharedKit: 'The group’s kit goes into the leaders’ packs',
  adultsCarry: 'The leaders take part of the load',
  together: 'All of these, as far as the leaders’ own target allows',
};

function reliefText(relief: Relief, supplies: Supplies, units: UnitSystem, design: Design): string {
  const { kind, savesEachKg, pack, leader } = relief;
  const after = `${massText(savesEachKg, units)} less each, ${massText(pack.totalKg, units)} left, ${percentText(pack.share)}`;
  const adults =
    leader === null
      ? ''
      : ` Each leader then has ${massText(leader.totalKg, units)}, ${percentText(leader.share)}${
          leader.share > design.supplies.packShare.adultTarget + 1e-9 ? ', over the target of adults' : ''
        }${kind === 'adultsCarry' ? ` (${massText(leader.addsKg, units)} more)` : ''}.`;
  const still =
    kind !== 'together' || pack.level === 'withinTarget' || pack.level === 'overTarget'
      ? ''
      : ` That is still ${pack.level === 'conflict' ? 'a conflict' : 'heavy'}: more adults, stated water, or a shorter day.`;
  const names = kind === 'refill' && supplies.refill !== null ? ` at ${refillNames(supplies.refill)}` : '';
  return `${RELIEFS[kind]}${names}: ${after}.${adults}${still}`;
}

/** Packs for people: what they weigh against the body, and the ways out where that is too much. */
export function packLines(supplies: Supplies, units: UnitSystem, design: Design): Lines {
  const { participant, leader, minors, reliefs, ageBand } = supplies;
  const shares = design.supplies.packShare;
  const { pack } = participant;
  const band = ageBand === null ? ' (age not stated: counted as the youngest)' : '';
  const isHeavy = pack.level === 'warning' || pack.level === 'conflict';
  return [
    ...citing(
      minors ? 'AOTA' : 'FM 21-20',
      `A participant’s pack${band}: kit ${massText(pack.kitKg, units)}, water ${massText(pack.waterKg, units)}, food ${massText(pack.foodKg, units)}; ${packText(pack.totalKg, pack.bodyKg, units)}: ${LEVELS[pack.level](shares, minors)}.`,
    ),
    ...(leader === null
      ? []
      : citing(
          'FM 21-20',
          `A leader’s pack: ${packText(leader.pack.totalKg, leader.pack.bodyKg, units)}: ${LEVELS[leader.pack.level](shares, false)}.`,
        )),
    ...reliefs.map((relief) => reliefText(relief, supplies, units, design)),
    isHeavy && reliefs.length === 0
      ? 'From what is stated no way out can be counted: state water on the way, add adults, or choose a shorter day.'
      : null,
    ...citing(
      'design',
      'The masses of body and kit are round figures for the age; water and its cap go by them. Weigh one real pack, and the lightest child counts.',
    ),
  ];
}
