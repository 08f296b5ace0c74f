/** Training plans and ladders of routes in words. */

import type { RouteLadder } from '../plan/route-ladder.ts';
import type { NearerAim } from '../plan/training/nearer.ts';
import type { StatedRules } from '../plan/training/rules.ts';
import type { TrainingStep } from '../plan/training/steps.ts';
import type { SuitableRoute } from '../plan/training/suitable-routes.ts';
import type { MilestoneState, NotThisSeason, TrainingPlan } from '../plan/training-plan.ts';
import { missingOf } from '../rank/missing.ts';
import type { UnitSystem } from '../units.ts';
import { reasonText } from './criteria/index.ts';
import { missingText } from './criteria/words-of.ts';
import {
  atLeastClimbText,
  atLeastLengthText,
  climbText,
  heightText,
  lengthText,
  listed,
  percentText,
  plural,
} from './words.ts';

/** What a step is, in one line without its date. The last is named at least, the others about. */
export function stepText({ isLast, rockClass, distanceM, gainM }: TrainingStep, units: UnitSystem): string {
  const ground = rockClass === null ? '' : `, on class ${rockClass} ground`;
  if (isLast) {
    return `at least ${atLeastLengthText(distanceM, units)} with ${atLeastClimbText(gainM, units)} of climb${ground}`;
  }
  return `about ${lengthText(distanceM, units)} with ${climbText(gainM, units)} of climb${ground}`;
}

/** Another share beyond what is shown, without a false zero. */
const beyond = (growth: number): string =>
  growth <= 1.005
    ? 'no more than everyone who goes has shown'
    : `${percentText(growth - 1)} beyond what everyone who goes will have shown by then`;

/** Why a step is in the plan, in a sentence or two. */
export function stepWhy({ kind, growth, isLast, kept, daysBeforeTrip }: TrainingStep): string {
  const recoveryDays = isLast ? daysBeforeTrip : null;
  if (growth === null) {
    const first =
      'Too little is recorded lately for everyone who goes: a short walk with all of them shows where to start. It may well come sooner. Its size is an assumption; plan again once it is recorded.';
    return recoveryDays === null ? first : `${first} ${recovery(recoveryDays, kept)}`;
  }
  const size = beyond(growth);
  if (kind === 'classDay') {
    return `Everyone who goes walks such ground once before the trip; the day can be short. ${recoveryDays === null ? '' : recovery(recoveryDays, null)}`.trim();
  }
  if (kind === 'distanceDay')
    return `The distance day, on low ground: as far as the route, with less climb; ${size}.`;
  if (kind === 'gainDay') return `The gain day, on low ground: the route’s climb on a shorter way; ${size}.`;
  if (recoveryDays !== null) {
    const start = kind === 'bothDay' ? 'The day with both, on lower ground than the trip: ' : '';
    return `${start}${size}. ${recovery(recoveryDays, kept)}`;
  }
  return growth <= 1.005 ? `Keeps what has been shown: ${size}.` : `A step: ${size}.`;
}

function recovery(days: number, kept: number | null): string {
  const left =
    kept === null ? '' : `; less the ${percentText(1 - kept)} that is lost by then it is what the route asks`;
  return `${plural(days, 'day')} to recover before the trip${left}.`;
}

/** A known route, or a low hill so many times, as what would do for a step, with what is to be added. */
export function suitableRouteText(route: SuitableRoute, units: UnitSystem): string {
  const { name, times, distanceM, gainM, addDistanceM, addGainM } = route;
  const size = `${lengthText(distanceM, units)} with ${climbText(gainM, units)} of climb`;
  const added = [
    addDistanceM > 0 ? `${atLeastLengthText(addDistanceM, units)} on level ways` : null,
    addGainM > 0 ? `${atLeastClimbText(addGainM, units)} of climb on a stair or slope` : null,
  ].filter((text) => text !== null);
  const more = added.length === 0 ? '' : `, and add ${added.join(' and ')}`;
  return `${name}${times > 1 ? ` ${times} times` : ''}: ${size}${more}`;
}

/** A stair of a height climbed so many times. */
export function stairText(stair: { heightM: number; times: number }, units: UnitSystem): string {
  return `a stair of ${heightText(stair.heightM, units)} climbed ${plural(stair.times, 'time')}, and the distance on level ways`;
}

const TITLE: Record<MilestoneState['name'], string> = {
  distanceDay: 'The distance day',
  gainDay: 'The gain day',
  bothDay: 'The day with both',
};

/** Where a group stands with one of the three days of training. */
export function milestoneText({ name, state, date, by }: MilestoneState): string {
  const title = TITLE[name];
  const until = by === null ? '' : ` by ${by}`;
  if (state === 'done') return `${title}: done on ${date}, and still enough on the trip’s date.`;
  if (state === 'again') return `${title}: done on ${date}, but too long before the trip: again${until}.`;
  if (state === 'notNeeded') return `${title}: what everyone who goes has shown is enough without it.`;
  return `${title}: to do${until}.`;
}

const WEEKDAYS = ['Mondays', 'Tuesdays', 'Wednesdays', 'Thursdays', 'Fridays', 'Saturdays', 'Sundays'];

const mostText = ({ mostGrowth }: StatedRules): string => percentText(mostGrowth - 1);

/** So many training days on their dates. */
const daysOn = (dates: readonly string[]): string =>
  `${plural(dates.length, 'training day')}, on ${listed(dates)}`;

const datesOf = (steps: readonly TrainingStep[]): string[] => steps.map(({ date }) => date);

/** Where the steps lead in time, in a sentence. */
function inTimeText(steps: readonly TrainingStep[]): string {
  const last = steps.at(-1);
  if (last === undefined) throw new RangeError('a plan without a step');
  const which = steps.length === 1 ? '' : 'the last ';
  return `In ${daysOn(datesOf(steps))}, ${which}${plural(last.daysBeforeTrip, 'day')} before the trip.`;
}

/** That the time is too short, by how much, and what the steps lead to instead. */
function tooShortText(
  { steps, tripDate, rules }: TrainingPlan,
  leadsTo: string,
  shortByDays: number,
): string {
  const weekday = WEEKDAYS[rules.weekday - 1];
  const on = weekday === undefined ? '' : ` on ${weekday}`;
  return `Not on ${tripDate}: too short by ${plural(shortByDays, 'day')}. In ${daysOn(datesOf(steps))}, it is reached for ${leadsTo} at the earliest, in steps of at most ${mostText(rules)}${on}.`;
}

/** That a route is not for this season, and why. */
function notThisSeasonText({ rules, target }: TrainingPlan, why: NotThisSeason, units: UnitSystem): string {
  const size =
    target === null
      ? ''
      : ` The route needs ${lengthText(target.distanceM, units)} with up to ${climbText(target.gainM, units)} of climb.`;
  const steps = `in steps of at most ${mostText(rules)}`;
  switch (why.code) {
    case 'tooManySteps':
      return `Not this season: it would take about ${plural(why.days, 'training day')} ${steps}; ${rules.mostSteps} are the most that are planned.${size}`;
    case 'outOfReach':
      return `Not this season: no trip date in the next ${plural(rules.horizonDays, 'day')} is reached ${steps}.${size}`;
    case 'outOfSeason':
      return `Not this season: ${plural(why.days, 'training day')} would lead to ${why.on}, when the route is out of season.${size}`;
  }
}

/** What would do instead, in a sentence or two. */
export function nearerText(
  { distanceM, gainM, dates, routes }: NearerAim,
  tripDate: string,
  units: UnitSystem,
): string {
  const after = dates.length === 0 ? 'no more than what is shown now' : `after ${daysOn(dates)}`;
  const known =
    routes.length === 0 ? 'No known route fits then.' : `Known routes that fit then: ${routes.join(', ')}.`;
  return `A nearer aim for ${tripDate}: about ${lengthText(distanceM, units)} with ${climbText(gainM, units)} of climb, ${after}. ${known}`;
}

const pastText = (tripDate: string, today: string): string =>
  `The trip’s date, ${tripDate}, lies before today, ${today}: choose a later one.`;

const READY =
  'What everyone who goes has shown of distance, climb and work is enough for this route on that date.';
const EVEN_THEN = 'Even then it would not fit: see what else stands in the way.';

/** A training plan in a sentence or two. */
export function trainingText(plan: TrainingPlan, units: UnitSystem): string {
  const { state, today, tripDate, route, steps, leadsTo, shortByDays, why, inTheWay } = plan;
  if (state === 'past') return pastText(tripDate, today);
  if (state === 'unknown') {
    return `What the route asks is not known, so nothing can be planned for it: ${missingText(missingOf(route))}.`;
  }
  const { nearer } = plan;
  const instead = nearer === null ? '' : ` ${nearerText(nearer, tripDate, units)}`;
  if (why !== null) return `${notThisSeasonText(plan, why, units)}${instead}`;
  if (leadsTo === null) return pastText(tripDate, today);
  const led =
    state === 'ready'
      ? READY
      : shortByDays === null
        ? inTimeText(steps)
        : `${tooShortText(plan, leadsTo, shortByDays)}${instead}`;
  return inTheWay.length === 0 ? led : `${led} ${EVEN_THEN}`;
}

/** What stands beside the steps: whose rule they are, what is assumed, what they do not settle. */
export function trainingNotes(
  { state, steps, rules, leftOut, inTheWay }: TrainingPlan,
  units: UnitSystem,
): string[] {
  if (state === 'past' || state === 'unknown') return [];
  const notes: string[] = [];
  if (steps.length > 0) {
    notes.push(
      `Steps of at most ${mostText(rules)} beyond what is shown on the day, ${rules.daysBetween} days or more apart: this project’s own rule (design). No published support for “10 % a week” was found.`,
      'Every step is with everyone who goes. Plan again when an outing is recorded or missed.',
    );
  }
  if (steps.some((step) => step.growth === null)) {
    notes.push('The size of the first walk is an assumption, and so are the steps built on it.');
  }
  if (leftOut > 0) {
    notes.push(`${plural(leftOut, 'outing')} dated after today ${leftOut === 1 ? 'was' : 'were'} left out.`);
  }
  return [
    ...notes,
    ...inTheWay.map(
      (judgement) => `Training in these steps does not settle this: ${reasonText(judgement, units)}.`,
    ),
  ];
}

/** Why no known routes lead to a target, and what would do instead. */
function noLadderText(ladder: RouteLadder, reasons: string, units: UnitSystem): string {
  const { target, today, tripDate, tried, rules, training, nearer } = ladder;
  if (tried === null || training === null) {
    const instead =
      nearer.length === 0
        ? `No known route fits on ${tripDate}.`
        : `Nearer aims that fit on ${tripDate}: ${listed(nearer)}.`;
    return `No ladder leads there: ${reasons}. ${instead}`;
  }
  const plan = trainingText(training, units);
  if (training.why !== null) return `${plan} Why: ${reasons}.`;
  const time =
    tried.steps === 0
      ? `there is no time for a step between ${today} and ${tripDate} with ${rules.leastRecoveryDays} days to recover`
      : `none of the ${plural(tried.routes, 'known route')}, in up to ${plural(tried.steps, 'step')} ${rules.daysBetween} to ${rules.mostDaysBetween} days apart, brings enough`;
  return `${plan} No ladder leads to ${target}: ${time}. Missing on the trip’s date: ${reasons}.`;
}

/** A ladder of routes in a sentence or two. */
export function ladderSentence(ladder: RouteLadder, units: UnitSystem): string {
  const { state, target, today, tripDate, rungs, missing, inTheWay } = ladder;
  const reasons = missing.map((judgement) => reasonText(judgement, units)).join('; ');
  switch (state) {
    case 'past':
      return pastText(tripDate, today);
    case 'ready':
      return `What everyone who goes has shown is enough for ${target} on ${tripDate}.`;
    case 'ladder': {
      const sizes = rungs.map(
        ({ name, distanceM, gainM, date }) =>
          `${name} on ${date} (${lengthText(distanceM, units)}, ${climbText(gainM, units)} up)`,
      );
      const more =
        inTheWay.length === 0 ? '' : ' Training alone does not make it fit: see what stands in the way.';
      return `To ${target} in ${plural(rungs.length, 'step')}: ${sizes.join(', then ')}.${more}`;
    }
    case 'unknown':
      return `No ladder can be worked out: ${reasons}.`;
    case 'none':
      return noLadderText(ladder, reasons, units);
  }
}
