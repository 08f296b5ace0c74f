import { firstOnWeekday, lastDays, stepDays } from './days.ts';
import { type LadderQuestion, ladder, type Rung, type Shape } from './ladder.ts';
import { narrowed } from './narrowed.ts';
import type { TrainingRules } from './rules.ts';
import type { Amounts } from './target.ts';

export interface ScheduleQuestion extends Omit<LadderQuestion, 'final'> {
  /** The milestones to give a day of their own where there is time. */
  readonly shape: Shape;
  readonly today: string;
  /** Days from today to the first day that a step can have. */
  readonly firstDay: number;
}

/** Larger than rounding in floating point, far smaller than a step. */
const HAIR = 1e-9;

/**
 * The last big outing that is still worth the target when `kept` of it is left on the trip's date: distance and climb
 * over what is left, whole metres rounded up, and both a little larger where the route is more work than a day there
 * and back of its size.
 *
 * @param kept share that is left, above 0
 */
function finalDay(target: Amounts, kept: number, effortOf: TrainingRules['effortOf']): Amounts {
  const dayOf = (scale: number) => {
    const distanceM = Math.ceil((scale * target.distanceM) / kept);
    const gainM = Math.ceil((scale * target.gainM) / kept);
    return { distanceM, gainM, effortKj: effortOf(distanceM, gainM) };
  };
  const wantedKj = (target.effortKj / kept) * (1 + HAIR);
  let most = 1;
  while (dayOf(most).effortKj < wantedKj && most < 64) most *= 2;
  if (most === 1) return dayOf(1);
  return dayOf(narrowed(1, most, 40, (scale) => dayOf(scale).effortKj >= wantedKj));
}

/** The last day alone: it joins what there is no time to take apart. */
const joined = (shape: Shape): Shape => shape.slice(-1);

type Climb = (days: readonly number[], growth: number) => readonly Rung[] | null;

function climbTo(question: ScheduleQuestion, tripDay: number, lastDay: number, shape: Shape): Climb {
  const { rules, target } = question;
  const final = finalDay(target, rules.keeps(tripDay - lastDay), rules.effortOf);
  return (days, growth) =>
    days.length < shape.length ? null : ladder(days, shape, growth, { ...question, final });
}

/** How many steps fit from the first day to the last at the usual interval. */
const mostWeekly = (firstDay: number, lastDay: number, { daysBetween }: TrainingRules): number =>
  Math.floor((lastDay - firstDay) / daysBetween) + 1;

/** The fewest days that reach the end with the largest sane steps; of equal ones those that are spread the most. */
function fewestDays(
  climb: Climb,
  firstDay: number,
  lastDay: number,
  rules: TrainingRules,
): readonly number[] | null {
  const all = stepDays(lastDay, mostWeekly(firstDay, lastDay, rules), 0, rules);
  // Leaving steps out never gets a group further: where all of them do not reach, fewer do not.
  if (climb(all, rules.mostGrowth) === null) return null;
  let best = all;
  const mostRare = Math.floor((lastDay - firstDay) / rules.mostDaysBetween);
  for (let rare = 0; rare <= mostRare; rare += 1) {
    const room = mostWeekly(firstDay, lastDay - rare * rules.mostDaysBetween, rules);
    const most = Math.min(room, best.length - rare);
    const reaches = (weekly: number) =>
      climb(stepDays(lastDay, weekly, rare, rules), rules.mostGrowth) !== null;
    if (most < 1 || !reaches(most)) continue;
    let low = 0;
    let high = most;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (reaches(middle)) high = middle;
      else low = middle;
    }
    best = stepDays(lastDay, high, rare, rules);
  }
  return best;
}

/** The ladder on these days with the smallest steps that still reach the end. */
function gentlest(
  climb: Climb,
  days: readonly number[],
  { mostGrowth }: TrainingRules,
): readonly Rung[] | null {
  const isReached = (growth: number) => climb(days, growth) !== null;
  return climb(days, isReached(1) ? 1 : narrowed(1, mostGrowth, 10, isReached));
}

/**
 * The steps to a trip so many days from today: the fewest outings that reach it, then the smallest steps with these;
 * on the wished weekday where that reaches, with days of their own for distance and climb where there is time.
 * `null`: no sane ladder reaches it by then.
 */
export function schedule(question: ScheduleQuestion, tripDay: number): readonly Rung[] | null {
  const { rules, firstDay, today, shape } = question;
  for (const lastDay of lastDays(today, firstDay, tripDay, rules)) {
    for (const wanted of shape.length > 1 ? [shape, joined(shape)] : [shape]) {
      const climb = climbTo(question, tripDay, lastDay, wanted);
      const days = fewestDays(climb, firstDay, lastDay, rules);
      if (days !== null) return gentlest(climb, days, rules);
    }
  }
  return null;
}

/** Whether a sane ladder reaches a trip so many days from today, on the preferred weekday where there is one. */
function reaches(question: ScheduleQuestion, tripDay: number): boolean {
  const { rules, firstDay, today } = question;
  const [lastDay] = lastDays(today, firstDay, tripDay, rules);
  if (lastDay === undefined) return false;
  const all = stepDays(lastDay, mostWeekly(firstDay, lastDay, rules), 0, rules);
  return climbTo(question, tripDay, lastDay, joined(question.shape))(all, rules.mostGrowth) !== null;
}

/**
 * The nearest later day, counted from today, on which a trip can be reached by sane steps on the preferred weekday;
 * `null` where none within the horizon of the settings can.
 *
 * @param tripDay days from today to the trip that is too near
 */
export function nearestDay(question: ScheduleQuestion, tripDay: number): number | null {
  const { rules, today } = question;
  const { daysBetween, leastRecoveryDays, horizonDays } = rules;
  const firstDay = firstOnWeekday(today, question.firstDay, rules);
  // Steps from the first day on, one more at a time, say about where to look.
  for (let outings = 1; ; outings += 1) {
    const lastDay = firstDay + daysBetween * (outings - 1);
    const about = lastDay + leastRecoveryDays;
    if (about > horizonDays) return null;
    const days = stepDays(lastDay, outings, 0, rules);
    if (climbTo(question, about, lastDay, joined(question.shape))(days, rules.mostGrowth) === null) continue;
    const from = Math.max(tripDay + 1, about);
    // Which weekday a trip falls on decides how its steps lie: within two weeks one of them must do.
    for (let day = from; day <= from + 14; day += 1) if (reaches(question, day)) return day;
  }
}
