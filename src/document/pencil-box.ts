import type { Design } from '../design.ts';
import { clockOn, durationText } from '../text/words.ts';
import { M_PER_FT, M_PER_MILE, type UnitSystem } from '../units.ts';
import { citing, type PageSection, section, TRADE } from './people-page.ts';
import type { PlanFacts } from './plan-facts.ts';

/** The box in which participants work out the day themselves (trade rule: common practice, no source). No answer in it. */
export function pencilBox(facts: PlanFacts, units: UnitSystem, design: Design): PageSection {
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
