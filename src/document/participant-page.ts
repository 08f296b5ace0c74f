import type { Design } from '../design.ts';
import { kcalText, litresPerHourText, litresText } from '../text/amount-text.ts';
import {
  climbText,
  clockOn,
  durationText,
  heightText,
  lengthText,
  longDateText,
  plural,
} from '../text/words.ts';
import { M_PER_FT, M_PER_MILE, type UnitSystem } from '../units.ts';
import { headacheRule } from './altitude-cautions.ts';
import { citing, type PageSection, type PeoplePage, section, TRADE } from './people-page.ts';
import type { PlanFacts } from './plan-facts.ts';

/**
 * The five classes in plain words. The scale began as the Sierra Club system in the 1930s; the wording is not
 * standardised, and these are working definitions in our own words (sources.md §12).
 */
const CLASSES = [
  'Walking on a path. Hands are not needed.',
  'Rough ground or no path: loose stones, boulders. Now and then a hand for balance.',
  'Scrambling: you need your hands to get on. A fall could hurt you. Some groups use a rope.',
  'Easy climbing high above the ground. A fall could kill. Often with a rope.',
  'Rock climbing with rope and protection.',
] as const;

function shiftText(part: string): string {
  // Inside class 5 plus and minus belong to the grade.
  if (part.includes('.')) return '';
  if (part.endsWith('+')) return ', at its harder end';
  return part.endsWith('-') ? ', at its easier end' : '';
}

/**
 * The section on the classes with this route's marked; of a summit block ("3s4") both are. `null`: the class is not
 * stated, nothing is marked and the note says so.
 * @param rockClass as the reader of route files accepts it: "1", "2+", "3s4", "5.4".
 * @param inDoubt the class that steep ground may be: nothing is then said to be "here" as if it were sure.
 */
export function classLegend(rockClass: string | null, inDoubt: number | null): PageSection {
  const parts = rockClass === null ? [] : rockClass.split('s');
  const marked = [...new Set(parts.map((part) => Number(part[0]) - 1))].sort();
  const [walk, block] = parts;
  const says = inDoubt === null ? '' : 'stated as ';
  const note =
    walk === undefined
      ? 'The class of this route is not stated. Ask the leaders before you say yes.'
      : block === undefined
        ? `This route: ${says}class ${walk}${shiftText(walk)}. The hardest step of the whole way gives the class.`
        : `This route: ${says}class ${walk}${shiftText(walk)}, and class ${block}${shiftText(block)} for the last piece to the summit. The harder one counts.`;
  return section('How hard is the ground?', {
    table: {
      columns: ['Class', 'What it is like', 'This route'],
      rows: CLASSES.map((text, index) => [
        String(index + 1),
        text,
        marked.includes(index)
          ? inDoubt === null
            ? 'here'
            : 'stated'
          : index + 1 === inDoubt
            ? 'perhaps'
            : '–',
      ]),
      marked,
    },
    lines: [
      inDoubt === null
        ? note
        : `${note} Not sure yet: some of the ground is so steep that it may be class ${inDoubt} or harder. The leaders check before the day: ask them.`,
    ],
  });
}

/** The box in which participants work out the day themselves (trade rule: common practice, no source). No answer in it. */
function pencilBox(facts: PlanFacts, units: UnitSystem, design: Design): PageSection {
  const { minPerKm, minPerClimbM } = design.tradeRule;
  // In whole numbers, rounded up; the small step back keeps a whole number whole after dividing by a mile or a foot.
  const up = (minutes: number) => Math.ceil(minutes - 1e-9);
  const [unit, climbUnit, minPerUnit, minPerClimbUnit] =
    units === 'us'
      ? ['miles', 'thousands of feet', up((minPerKm * M_PER_MILE) / 1000), up(minPerClimbM * 1000 * M_PER_FT)]
      : ['kilometres', 'hundreds of metres', up(minPerKm), up(minPerClimbM * 100)];
  const { minPerMovingHour } = design.stops;
  const { mealMin, mealFromMovingMin } = design.day;
  const endsBelow = facts.checkpoints.some(({ kind }) => kind === 'treelineDown');
  const question =
    endsBelow && facts.deadlineMs !== null
      ? `The same only as far as below treeline again (all the climb counts): when must we start to be there by ${clockOn(facts.deadlineMs, facts.zone, facts.date)}?`
      : 'When will we be back?';
  return section('Work out the day yourself, with a pencil', {
    lines: citing(
      TRADE,
      `Walking: ${minPerUnit} minutes for each of the ${unit}. Going up: ${minPerClimbUnit} minutes more for each of the ${climbUnit}. Breaks: ${minPerMovingHour} minutes for each hour, begun ones too. Lunch: ${mealMin} minutes if the walking is ${durationText(mealFromMovingMin)} or more.`,
    ),
    blanks: [
      `${unit} × ${minPerUnit} = … minutes`,
      `${climbUnit} up × ${minPerClimbUnit} = … minutes`,
      'Walking, both together',
      'Breaks and lunch',
      'The whole day, in hours and minutes',
      question,
    ],
  });
}

/**
 * How the group treats the place (common practice, no source). The lines for ground above treeline stand unless the
 * whole route is known to lie below it.
 */
export function careForPlace({ aboveTreelineMin }: Pick<PlanFacts, 'aboveTreelineMin'>): string[] {
  const mayBeAbove = aboveTreelineMin !== 0;
  return [
    mayBeAbove
      ? 'Toilet: go at the trailhead. Above treeline there is too little soil to bury it in: carry it out in a sealed bag, paper too.'
      : 'Toilet: go at the trailhead. On the way: far from water and path, a hand-deep hole in soil; paper comes home.',
    mayBeAbove
      ? 'Walk on rock, gravel, snow or the path. Plants up there take many years to grow back from one boot.'
      : 'Stay on the path, through mud too. A second path beside it takes years to heal.',
    'No fires. All food scraps come home, peel and shells too.',
    'Animals: look from far away, never feed, never chase, and keep food closed.',
    'Quiet: voices carry. Let others pass, and leave stones, flowers and horns where they are.',
    'What the land manager says comes first.',
  ];
}

function whatAndWhen(facts: PlanFacts, units: UnitSystem): PageSection {
  const clock = (ms: number) => clockOn(ms, facts.zone, facts.date);
  const below = facts.checkpoints.findLast(({ kind }) => kind === 'treelineDown');
  return section('What, where, when', {
    lines: [
      `${facts.routeName}${facts.trailheadName === null ? '' : `, from ${facts.trailheadName}`}, on ${longDateText(facts.date)}.${facts.spareDate === null ? '' : ` If it cannot be that day: ${longDateText(facts.spareDate)}.`}`,
      `${plural(facts.party.participants, 'participant')}${facts.party.leaders === null ? '' : ` with ${plural(facts.party.leaders, 'leader')}`}.`,
      `The whole way: ${lengthText(facts.distanceM, units)}${facts.gainM === null ? '' : `, ${climbText(facts.gainM, units)} up`}${facts.highM === null ? '' : `, highest point ${heightText(facts.highM, units)}`}.`,
      below === undefined
        ? null
        : `Below treeline, where the trees end, again after ${lengthText(below.distanceM, units)}.`,
      facts.meetMs === null ? null : `Meet ${clock(facts.meetMs)}.`,
      `Start walking ${clock(facts.startMs)}. Back at about ${clock(facts.back.p50Ms)}, perhaps not before ${clock(facts.back.p90Ms)}; one day in ten it is later still.`,
      facts.home === null
        ? null
        : `Home at the meeting place at about ${clock(facts.home.p50Ms)}, perhaps not before ${clock(facts.home.p90Ms)}.`,
      facts.deadlineMs === null
        ? null
        : `Everyone is ${below === undefined ? 'back' : 'below treeline'} by ${clock(facts.deadlineMs)}, top or no top. Thunderstorms are why.`,
    ],
    blanks: [
      ...(facts.meetMs === null ? ['Meet at (time)'] : []),
      'Meet where',
      'Who to ring if I cannot come',
      'Who families ring on the day',
    ],
  });
}

function bring(facts: PlanFacts, units: UnitSystem): PageSection {
  return section('Bring and wear', {
    ticks: [
      // Rounded up to half a litre: never less than was worked out.
      `Water: ${litresText(Math.ceil(facts.waterLitresEach * 2 - 1e-9) / 2, units)}, full when we meet${facts.waterFills === 0 ? '' : `; we fill up ${plural(facts.waterFills, 'time')} on the way`}`,
      `Food: about ${kcalText(facts.foodKcalEach)}, salty and sweet`,
      'Boots or strong shoes, walked in, with a good grip',
      ...facts.kit,
    ],
  });
}

const eating = ({ waterMostPerHL }: PlanFacts): readonly string[] => [
  'The night before: a big plain supper you know, such as pasta, rice or potatoes. Drink with it. Pack your bag, go to bed early.',
  'In the morning: breakfast, even if it is early. On the way: a few bites at every stop, before you are hungry.',
  `Drink when thirsty, a little at a time. Not too much either: never over ${litresPerHourText(waterMostPerHL)}.`,
];

const FEELING: readonly string[] = [
  'High up the air is thin. A headache, feeling sick, dizzy or far too tired can be altitude illness. It happens to strong people too.',
  'Tell a leader at once, and tell them too if a friend is quiet, stumbling or odd. You spoil nothing: resting or going down makes it better, hiding it makes it worse.',
];

/** The two that are said here plainly; thunder and thin air have their own places. */
const RISKS = citing(
  TRADE,
  'Falling: most people who get hurt slip or trip, often on the way down with tired legs. Short steps, eyes on your feet, stand still to look round. Stay behind the first leader and away from edges; kick no stones.',
  'Cold: it is colder and windier up there, in summer too, and wet clothes chill. Put a layer on before you shiver. If you or a friend shiver or fumble, tell a leader at once.',
);

/** The page for those who go and their families: one sheet, in short plain words. */
export function participantPage(facts: PlanFacts, units: UnitSystem, design: Design): PeoplePage {
  return {
    title: `Your day: ${facts.routeName}`,
    reader: 'participants',
    sections: [
      whatAndWhen(facts, units),
      bring(facts, units),
      section('Eat and drink', { lines: eating(facts) }),
      section('Get ready', {
        lines:
          facts.trainingSteps.length > 0
            ? facts.trainingSteps
            : ['Ask the leaders which walks come before this one. Do not miss them.'],
      }),
      classLegend(facts.rockClass, facts.classInDoubt),
      section('How do you feel?', { lines: [...FEELING, headacheRule(facts, units, design)] }),
      section('What can go wrong', { lines: RISKS }),
      section('Weather and turning round', {
        lines: [
          'If there is thunder we go down at once. The leaders decide, and turning round is always right.',
          'You may always say: I do not want to go on.',
          'All times are estimates. Nobody can promise that a mountain day is safe; that is why we plan it.',
        ],
      }),
      section('How we treat the place', { lines: careForPlace(facts) }),
      pencilBox(facts, units, design),
    ],
  };
}
