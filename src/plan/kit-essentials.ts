import { kcalText, litresText } from '../text/amount-text.ts';
import { durationText, heightText, percentText, plural } from '../text/words.ts';
import { M_PER_MILE } from '../units.ts';
import { type KitDay, type KitItem, lateText, openGroundText, partyText, shared } from './kit-day.ts';
import { planColdText, summitColdText } from './summit-cold.ts';

function navigation(day: KitDay): KitItem[] {
  const { question, design, lateMin, summit } = day;
  const { coldC, phoneHours, phoneHoursCold } = design.kit;
  const isCold = day.isColdHalf || summit === null || summit.planC <= coldC;
  const hours = isCold ? phoneHoursCold : phoneHours;
  const charges = Math.max(1, Math.ceil(lateMin / 60 / hours) - 1);
  const leaders = Math.max(2, question.party.leaders ?? 0);
  const runs = `${lateText(day)} on a late day; one charge is counted as ${plural(hours, 'hour')}${isCold ? ' in the cold' : ''}`;
  return [
    {
      system: 'navigation',
      what: 'Paper map with its grid and a compass set to the declination, and the printed route card',
      why: `One with the front and one with the back of ${partyText(day)}; paper needs no battery in ${lateText(day)}.`,
      who: 'adult',
      count: leaders,
    },
    {
      system: 'navigation',
      what: `Phone or GPS receiver with the line stored on it, kept warm, and a power bank for ${plural(charges, 'full charge')}`,
      why: `${runs}.`,
      who: 'adult',
      count: 2,
    },
  ];
}

function headlamp(day: KitDay): KitItem[] {
  const { p50, p90 } = day.question.headlampMin;
  const dark =
    Math.round(p90) > 0
      ? `${durationText(p50)} in the dark on a middle day, ${durationText(p90)} on a late one`
      : `0 min in the dark are planned, on a late day of ${lateText(day)} too; for the day that goes wrong`;
  return [
    {
      system: 'headlamp',
      what: 'Headlamp with fresh batteries, and a spare set',
      why: `${dark}.`,
      who: 'each',
      count: day.people,
    },
    {
      system: 'headlamp',
      what: 'Spare headlamp',
      why: `For the one that fails among ${partyText(day)}.`,
      who: day.keeper,
      count: shared(day.people, day.design.kit.peoplePerSpareLamp),
    },
  ];
}

/** More ultraviolet for each kilometre of height: WHO, Global Solar UV Index 2002, 10 to 12 % (from memory). */
const UV_PER_KM = 0.1;

function sun(day: KitDay): KitItem {
  const { highM } = day.question;
  // Fresh snow throws back up to 80 % of it: WHO 2002, from memory.
  const snow = day.maySnow ? '; snow throws it back from below' : '';
  const height =
    highM === null
      ? 'Not known is the height of the route'
      : highM > 0
        ? `At ${heightText(highM, day.units)} about ${percentText((UV_PER_KM * highM) / 1000)} more ultraviolet than at the sea`
        : 'Ultraviolet as at the sea';
  return {
    system: 'sun',
    what: `Sun cream, lip balm, hat with a brim and ${day.maySnow ? 'dark glasses closed at the sides' : 'sunglasses'}`,
    why: `${height}; ${openGroundText(day)}${snow}.`,
    who: 'each',
    count: day.people,
  };
}

function firstAid(day: KitDay): KitItem[] {
  const { design, people, keeper } = day;
  const items: KitItem[] = [
    {
      system: 'firstAid',
      what: 'First-aid kit with gloves, large dressings, bandages, tape and a note pad',
      why: `Sized for ${partyText(day)}, ${lateText(day)} out.`,
      who: keeper,
      count: shared(people, design.kit.peoplePerFirstAidKit),
    },
    {
      system: 'firstAid',
      what: 'Blister dressings with tape, used at the first rub',
      why: `${design.kit.blisterDressingsEach} for each of ${partyText(day)}, for ${lateText(day)} in boots.`,
      who: keeper,
      count: people * design.kit.blisterDressingsEach,
    },
  ];
  if (day.minors) {
    items.push({
      system: 'firstAid',
      what: 'Medicines handed in by families, as the program’s policy says',
      why: `With one adult for all ${day.question.party.participants} participants; ask every family.`,
      who: 'adult',
      count: 1,
    });
  }
  return items;
}

function repairAndFire(day: KitDay): KitItem[] {
  return [
    {
      system: 'repair',
      what: 'Knife, strong tape, cord, cable ties and spare laces',
      why: `Boots, poles and packs of ${partyText(day)} have to last ${lateText(day)}.`,
      who: day.keeper,
      count: 1,
    },
    {
      system: 'fire',
      what: 'Lighter and matches, kept dry, and fire starter; fire bans come first',
      why: `Only if ${partyText(day)} are stopped out beyond ${lateText(day)}.`,
      who: day.keeper,
      count: 1,
    },
  ];
}

function shelter(day: KitDay): KitItem[] {
  const { people, design, summit, units } = day;
  const { peoplePerShelter } = design.kit;
  return [
    {
      system: 'shelter',
      what: `Group shelter for ${plural(peoplePerShelter, 'person', 'people')}`,
      why: `A stop with someone hurt: ${partyText(day)}, ${openGroundText(day)}.`,
      who: 'group',
      count: shared(people, peoplePerShelter),
    },
    {
      system: 'shelter',
      what: 'Sit pad and foil bag',
      why: `For standing still: ${planColdText(summit, units)}.`,
      who: 'each',
      count: people,
    },
  ];
}

function foodAndWater(day: KitDay): KitItem[] {
  const { supplies } = day.design;
  return [
    {
      system: 'food',
      what: 'Extra food that needs no cooking',
      why: `${kcalText(supplies.emergencyKcal)} each beyond the food for ${lateText(day)}.`,
      who: 'each',
      count: day.people,
    },
    {
      system: 'water',
      what: 'Extra water in bottles that hold all that the water list says',
      why: `${litresText(supplies.reserveL, day.units)} each beyond the drink for ${lateText(day)}${day.isColdHalf ? '; hoses freeze' : ''}.`,
      who: 'each',
      count: day.people,
    },
    {
      system: 'water',
      what: 'Filter or other treatment for water',
      why: `For ${partyText(day)} if the day runs beyond ${lateText(day)}.`,
      who: day.keeper,
      count: 1,
    },
  ];
}

function clothes(day: KitDay): KitItem[] {
  const { summit, units, people, design, question } = day;
  const { windKmPerH } = design.cards;
  const windText =
    units === 'us' ? `${Math.round((windKmPerH * 1000) / M_PER_MILE)} mph` : `${Math.round(windKmPerH)} km/h`;
  const items: KitItem[] = [
    {
      system: 'clothes',
      what: 'Rain jacket and trousers that stop wind, warm layer, warm hat, gloves and dry socks; no cotton',
      why: `${summitColdText(summit, units)} Wind counted: ${windText}; ${openGroundText(day)}.`,
      who: 'each',
      count: people,
    },
  ];
  const isColdTop = summit === null || summit.planC <= design.kit.coldC;
  if (!isColdTop && !day.isColdHalf) return items;
  const season = day.isColdHalf ? `; month ${question.month} counts as cold, and colder than the mean` : '';
  items.push({
    system: 'clothes',
    what: 'Second warm layer, thick and dry, and spare gloves',
    why: `For ${partyText(day)}: ${planColdText(summit, units)}${season}.`,
    who: 'each',
    count: people,
  });
  return items;
}

/** The ten essentials as this day asks for them (the list is common practice; the numbers to a party are design). */
export function essentials(day: KitDay): KitItem[] {
  return [
    ...navigation(day),
    ...headlamp(day),
    sun(day),
    ...firstAid(day),
    ...repairAndFire(day),
    ...shelter(day),
    ...foodAndWater(day),
    ...clothes(day),
  ];
}
