import { rockClassValue } from '../ingest/rock-class.ts';
import { type KitDay, type KitItem, lateText, partyText, shared } from './kit-day.ts';

/** From this class on hands are needed, and stones fall on heads. */
const HELMET_CLASS = 3;

function ground({ question, people, maySnow, keeper }: KitDay): KitItem[] {
  const { rockClass, surface, steep30to50, month } = question;
  const items: KitItem[] = [];
  // "3-" is still class 3 ground.
  const needsHelmet = rockClass === null || Math.round(rockClassValue(rockClass)) >= HELMET_CLASS;
  if (needsHelmet) {
    items.push({
      system: 'terrain',
      what: 'Helmet, fitted before the day',
      why:
        rockClass === null
          ? 'The class is not stated: take helmets until it is known to be under 3.'
          : `Class ${rockClass}: hands on rock, and loose stones under others.`,
      who: 'each',
      count: people,
    });
  }
  if (surface === 'snow') {
    items.push({
      system: 'terrain',
      what: 'Grip for boots on snow and a pole or axe, of the kind the group has trained with',
      why: `The way is stated as snow, in month ${month}; without training choose another route.`,
      who: 'each',
      count: people,
    });
  }
  if (maySnow && steep30to50 !== false) {
    items.push({
      system: 'terrain',
      what: 'Avalanche report of the day, read and talked over; transceiver, probe and shovel for each who is trained, else another route',
      why:
        steep30to50 === null
          ? `Snow may lie in month ${month}, and it is not known whether there is ground of 30 to 50 degrees.`
          : `Ground of 30 to 50 degrees, where snow may lie in month ${month}.`,
      who: keeper,
      count: 1,
    });
  }
  return items;
}

function party(day: KitDay): KitItem[] {
  const { people, design, question } = day;
  const { leaders } = question.party;
  return [
    {
      system: 'party',
      what: 'Whistle',
      why: `Three blasts call for help among ${partyText(day)}; no battery in ${lateText(day)}.`,
      who: 'each',
      count: people,
    },
    {
      system: 'party',
      what: 'Charged phone in the warm, and a radio or satellite communicator; who is called stands on the call-out card',
      why: `${partyText(day)} out for ${lateText(day)}, and phones may have no signal.`,
      who: 'adult',
      count: 2,
    },
    {
      system: 'party',
      what: 'Toilet kit: trowel, paper, bags to carry it out, hand gel',
      why: `${partyText(day)}, ${lateText(day)} away from a toilet.`,
      who: 'group',
      count: shared(people, design.kit.peoplePerToiletKit),
    },
    {
      system: 'party',
      what: 'Keys of every vehicle, the spare set with a second leader',
      why:
        leaders !== null && leaders < 2
          ? `Only ${leaders} ${leaders === 1 ? 'leader goes' : 'leaders go'}: agree on a second adult, so that one lost or hurt person strands nobody.`
          : `One lost or hurt person must not strand ${partyText(day)}.`,
      who: 'adult',
      count: 2,
    },
  ];
}

/** What a party needs beyond the ten essentials (common practice, no source): for its size and for the ground. */
export const beyondEssentials = (day: KitDay): KitItem[] => [...party(day), ...ground(day)];
