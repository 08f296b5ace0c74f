import type { Design } from '../design.ts';
import type { Kit, KitCode, KitItem, SummitCold } from '../plan/kit.ts';
import { kcalText, litresText, temperatureStepText, temperatureText, windText } from '../text/amount-text.ts';
import { durationText, heightText, percentText, plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';

/** A thing to take along as people and programs read it: what it is, and what this day asks of it, with its figure. */
export interface KitLine extends Omit<KitItem, 'code'> {
  readonly what: string;
  readonly why: string;
}

/** More ultraviolet for each kilometre of height: WHO, Global Solar UV Index 2002, 10 to 12 % (from memory). */
const UV_PER_KM = 0.1;

/** The cold that layers are chosen for: `2 °C at the top, −5 °C in wind`. */
function planColdText(cold: SummitCold | null, units: UnitSystem): string {
  if (cold === null) return 'not known is the height of the route, so the cold counts';
  const wind = cold.feelsC === null ? '' : `, ${temperatureText(cold.feelsC, units)} in wind`;
  return `${temperatureText(cold.coldC, units)} at the top on a cold day${wind}`;
}

/** One or two sentences on the cold at the top, and how to use a forecast with it. */
function summitColdText(cold: SummitCold | null, units: UnitSystem): string {
  if (cold === null)
    return 'Not known is the height of the route: dress as for the coldest day of the season.';
  const { highM, colderK, coldC, feelsC } = cold;
  const guide = `${heightText(highM, units)}: ${temperatureText(coldC, units)} on a cold day at this time of year, by latitude and height, no forecast`;
  const step =
    colderK === null
      ? ''
      : `; about ${temperatureStepText(colderK.mean, units)} colder than the trailhead, up to ${temperatureStepText(colderK.dry, units)} in dry air`;
  const use = colderK === null ? '' : '. Take that off the forecast for the trailhead';
  const wind =
    feelsC === null
      ? ''
      : `. ${temperatureText(coldC, units)} in wind feels like ${temperatureText(feelsC, units)}`;
  return `${guide}${step}${use}${wind}.`;
}

/** How long the way lies open to wind and sun. */
function openGroundText(minutes: number | null): string {
  if (minutes === null) return 'not known is how long the way lies above treeline, so it counts as long';
  return minutes === 0 ? 'no ground above treeline' : `${durationText(minutes)} above treeline`;
}

function sunText(highM: number | null, units: UnitSystem): string {
  if (highM === null) return 'Not known is the height of the route';
  return highM > 0
    ? `At ${heightText(highM, units)} about ${percentText((UV_PER_KM * highM) / 1000)} more ultraviolet than at the sea`
    : 'Ultraviolet as at the sea';
}

/** What each thing is and why: `[what, why]`. A table of words, so it is longer than other functions. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a table of words
function textsOf(day: Kit, units: UnitSystem, design: Design): Record<KitCode, readonly [string, string]> {
  const { question, summit, maySnow, isFrosty, hotDayC, phone } = day;
  const { rockClass, headlampMin } = question;
  const month = Number(question.date.slice(5, 7));
  const { participants, leaders } = question.party;
  const { supplies, kit, cards } = design;
  const people = plural(day.people, 'person', 'people');
  // The whole of a late day.
  const late = durationText(question.dayMin.p90);
  const open = openGroundText(question.aboveTreelineMin);
  const dark =
    Math.round(headlampMin.p90) > 0
      ? `${durationText(headlampMin.p50)} in the dark on a middle day, ${durationText(headlampMin.p90)} on a late one`
      : `0 min in the dark are planned, on a late day of ${late} too; for the day that goes wrong`;
  return {
    map: [
      'Paper map with its grid and a compass set to the declination, and the printed route card',
      `One with the front and one with the back of ${people}; paper needs no battery in ${late}.`,
    ],
    receiver: [
      `Phone or GPS receiver with the line stored on it, kept warm, and a power bank for ${plural(phone.charges, 'full charge')}`,
      `${late} on a late day; one charge is counted as ${plural(phone.hours, 'hour')}${phone.isCold ? ' in the cold' : ''}.`,
    ],
    headlamp: ['Headlamp with fresh batteries, and a spare set', `${dark}.`],
    spareLamp: ['Spare headlamp', `For the one that fails among ${people}.`],
    sun: [
      `Sun cream, lip balm, hat with a brim and ${maySnow ? 'dark glasses closed at the sides' : 'sunglasses'}${hotDayC === null ? '' : ', light long clothes'}`,
      // Fresh snow throws back up to 80 % of it: WHO 2002, from memory.
      `${sunText(question.highM, units)}; ${open}${maySnow ? '; snow throws it back from below' : ''}${hotDayC === null ? '' : `; a hot day can reach ${temperatureText(hotDayC, units)} at the foot`}.`,
    ],
    firstAid: [
      'First-aid kit with gloves, large dressings, bandages, tape and a note pad',
      `Sized for ${people}, ${late} out.`,
    ],
    blisters: [
      'Blister dressings with tape, used at the first rub',
      `${kit.blisterDressingsEach} for each of ${people}, for ${late} in boots.`,
    ],
    medicines: [
      'Medicines handed in by families, as the program’s policy says',
      `With one adult for all ${participants} participants; ask every family.`,
    ],
    repair: [
      'Knife, strong tape, cord, cable ties and spare laces',
      `Boots, poles and packs of ${people} have to last ${late}.`,
    ],
    fire: [
      'Lighter and matches, kept dry, and fire starter; fire bans come first',
      `Only if ${people} are stopped out beyond ${late}.`,
    ],
    shelter: [
      `Group shelter for ${plural(kit.peoplePerShelter, 'person', 'people')}`,
      `A stop with someone hurt: ${people}, ${open}.`,
    ],
    sitPad: ['Sit pad and foil bag', `For standing still: ${planColdText(summit, units)}.`],
    extraFood: [
      'Extra food that needs no cooking',
      `${kcalText(supplies.emergencyKcal)} each beyond the food for ${late}.`,
    ],
    extraWater: [
      'Extra water in bottles that hold all that the water list says',
      `${litresText(supplies.reserveL, units)} each beyond the drink for ${late}${isFrosty ? '; hoses freeze' : ''}.`,
    ],
    treatment: ['Filter or other treatment for water', `For ${people} if the day runs beyond ${late}.`],
    layers: [
      'Rain jacket and trousers that stop wind, warm layer, warm hat, gloves and dry socks; no cotton',
      `${summitColdText(summit, units)} Wind counted: ${windText(cards.windKmPerH, units, Math.round)}; ${open}.`,
    ],
    secondLayer: [
      'Second warm layer, thick and dry, and spare gloves',
      `For ${people}: ${planColdText(summit, units)}${isFrosty ? '; frost is likely down to the foot' : ''}.`,
    ],
    whistle: ['Whistle', `Three blasts call for help among ${people}; no battery in ${late}.`],
    phone: [
      'Charged phone in the warm, and a radio or satellite communicator; who is called stands on the call-out card',
      `${people} out for ${late}, and phones may have no signal.`,
    ],
    toilet: [
      'Toilet kit: trowel, paper, bags to carry it out, hand gel',
      `${people}, ${late} away from a toilet.`,
    ],
    keys: [
      'Keys of every vehicle, the spare set with a second leader',
      leaders !== null && leaders < 2
        ? `Only ${leaders} ${leaders === 1 ? 'leader goes' : 'leaders go'}: agree on a second adult, so that one lost or hurt person strands nobody.`
        : `One lost or hurt person must not strand ${people}.`,
    ],
    helmet: [
      'Helmet, fitted before the day',
      rockClass === null
        ? 'The class is not stated: take helmets until it is known to be under 3.'
        : `Class ${rockClass}: hands on rock, and loose stones under others.`,
    ],
    grip: [
      'Grip for boots on snow and a pole or axe, of the kind the group has trained with',
      `The way is stated as snow, in month ${month}; without training choose another route.`,
    ],
    avalanche: [
      'Avalanche report of the day, read and talked over; transceiver, probe and shovel for each who is trained, else another route',
      question.steep30to50 === null
        ? `Snow may lie in month ${month}, and it is not known whether there is ground of 30 to 50 degrees.`
        : `Ground of 30 to 50 degrees, where snow may lie in month ${month}.`,
    ],
  };
}

/** The kit in words, in its order. */
export function kitLines(day: Kit, units: UnitSystem, design: Design): KitLine[] {
  const texts = textsOf(day, units, design);
  return day.items.map(({ code, system, who, count }) => {
    const [what, why] = texts[code];
    return { system, what, why, who, count };
  });
}
