import type { Design } from '../design.ts';
import { clockOn, durationText } from '../text/words.ts';
import { M_PER_FT, M_PER_MILE, MS_PER_MIN, type UnitSystem } from '../units.ts';
import { type PageSection, section, TRADE } from './people-page.ts';
import type { PlanFacts } from './plan-facts.ts';

/** The trade rule in whole numbers that can be done with a pencil, rounded up. */
interface PencilRule {
  readonly unit: 'miles' | 'kilometres';
  readonly minPerUnit: number;
  readonly climbUnit: string;
  readonly minPerClimbUnit: number;
  readonly unitM: number;
  readonly climbUnitM: number;
}

function pencilRule(units: UnitSystem, { tradeRule }: Design): PencilRule {
  const isUs = units === 'us';
  const unitM = isUs ? M_PER_MILE : 1000;
  const climbUnitM = isUs ? 1000 * M_PER_FT : 100;
  // The small step back keeps a whole number whole after dividing by a mile or a foot.
  const up = (minutes: number) => Math.ceil(minutes - 1e-9);
  return {
    unit: isUs ? 'miles' : 'kilometres',
    minPerUnit: up((tradeRule.minPerKm * unitM) / 1000),
    climbUnit: isUs ? 'thousands of feet' : 'hundreds of metres',
    minPerClimbUnit: up(tradeRule.minPerClimbM * climbUnitM),
    unitM,
    climbUnitM,
  };
}

/** The box's answers, for leaders alone. Minutes, by the trade rule from the figures as printed. */
export interface PencilAnswer {
  readonly wholeDayMin: number;
  /** From the start until below treeline again; `null`: that place, or the climb, is not known. */
  readonly untilBelowTreelineMin: number | null;
  /** When to start to be below treeline by the deadline, ms since 1970; `null`: one of the two is not known. */
  readonly latestStartMs: number | null;
}

/** Minutes as the box has them worked out: printed figures, minutes rounded up at each step. */
function workedMin(distanceM: number, climbM: number, rule: PencilRule, design: Design): number {
  const tenths = Math.round((distanceM / rule.unitM) * 10);
  // As printed: climbs to 10 m or 50 ft.
  const step = rule.climbUnitM === 100 ? 10 : 50 * M_PER_FT;
  const climbUnits = Math.round((Math.round(climbM / step) * step * 100) / rule.climbUnitM) / 100;
  const walking =
    Math.ceil((tenths * rule.minPerUnit) / 10) + Math.ceil(climbUnits * rule.minPerClimbUnit - 1e-9);
  const breaks = Math.ceil(walking / 60) * design.stops.minPerMovingHour;
  const lunch = walking >= design.day.mealFromMovingMin ? design.day.mealMin : 0;
  return walking + breaks + lunch;
}

/**
 * The answer to the pencil box; `null` where the climb is not known. All of the climb is counted before treeline is
 * reached again, the cautious end.
 */
export function pencilAnswer(facts: PlanFacts, units: UnitSystem, design: Design): PencilAnswer | null {
  if (facts.gainM === null) return null;
  const rule = pencilRule(units, design);
  const below = facts.checkpoints.findLast(({ kind }) => kind === 'treelineDown');
  const until = below === undefined ? null : workedMin(below.distanceM, facts.gainM, rule, design);
  return {
    wholeDayMin: workedMin(facts.distanceM, facts.gainM, rule, design),
    untilBelowTreelineMin: until,
    latestStartMs: until === null || facts.deadlineMs === null ? null : facts.deadlineMs - until * MS_PER_MIN,
  };
}

/** The box in which participants work out the day themselves (trade rule: common practice, no source). No answer in it. */
export function pencilBox(facts: PlanFacts, units: UnitSystem, design: Design): PageSection {
  const rule = pencilRule(units, design);
  const { minPerMovingHour } = design.stops;
  const { mealMin, mealFromMovingMin } = design.day;
  const endsBelow = facts.checkpoints.some(({ kind }) => kind === 'treelineDown');
  const question =
    endsBelow && facts.deadlineMs !== null
      ? `The same only as far as below treeline again (all the climb counts): when must we start to be there by ${clockOn(facts.deadlineMs, facts.zone, facts.date)}?`
      : 'When will we be back?';
  return section('Work out the day yourself, with a pencil', {
    lines: [
      {
        text: `Walking: ${rule.minPerUnit} minutes for each of the ${rule.unit}. Going up: ${rule.minPerClimbUnit} minutes more for each of the ${rule.climbUnit}. Breaks: ${minPerMovingHour} minutes for each hour, begun ones too. Lunch: ${mealMin} minutes if the walking is ${durationText(mealFromMovingMin)} or more.`,
        source: TRADE,
      },
    ],
    blanks: [
      `${rule.unit} × ${rule.minPerUnit} = … minutes`,
      `${rule.climbUnit} up × ${rule.minPerClimbUnit} = … minutes`,
      'Walking, both together',
      'Breaks and lunch',
      'The whole day, in hours and minutes',
      question,
    ],
  });
}
