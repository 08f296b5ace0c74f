import { percentText, plural } from '../../text/words.ts';
import type { TrainingRules } from './rules.ts';
import type { TrainingStep } from './steps.ts';

const WEEKDAYS = ['Mondays', 'Tuesdays', 'Wednesdays', 'Thursdays', 'Fridays', 'Saturdays', 'Sundays'];

const mostText = ({ mostGrowth }: TrainingRules): string => percentText(mostGrowth - 1);

/** Where the steps lead in time, in a sentence. */
export function inTimeText(steps: readonly TrainingStep[]): string {
  const [first] = steps;
  const last = steps.at(-1);
  if (first === undefined || last === undefined) throw new RangeError('a plan without a step');
  const recovery = `${plural(last.daysBeforeTrip, 'day')} before the trip`;
  if (first === last) return `1 outing on ${first.date}, ${recovery}.`;
  return `${steps.length} outings from ${first.date} to ${last.date}, the last ${recovery}.`;
}

/** That the time is too short, by how much, and what the steps lead to instead. */
export function tooShortText(
  steps: readonly TrainingStep[],
  tripDate: string,
  leadsTo: string,
  shortByDays: number,
  rules: TrainingRules,
): string {
  const weekday = WEEKDAYS[rules.weekday - 1];
  const on = weekday === undefined ? '' : ` on ${weekday}`;
  return `Too short by ${plural(shortByDays, 'day')}: in steps of at most ${mostText(rules)}${on} this route is reached on ${leadsTo} at the earliest, not on ${tripDate}. The ${plural(steps.length, 'outing')} below lead${steps.length === 1 ? 's' : ''} to the later date.`;
}

/** That no date within the horizon can be reached. */
export const tooFarText = (rules: TrainingRules): string =>
  `Too far: no trip date in the next ${plural(rules.horizonDays, 'day')} is reached in steps of at most ${mostText(rules)}. Choose a lower route.`;

/** What stands beside the steps: whose rule they are, what is assumed, what they do not settle. */
export function planNotes(
  steps: readonly TrainingStep[],
  rules: TrainingRules,
  leftOut: number,
  inTheWay: readonly { readonly reason: string }[],
): string[] {
  const notes: string[] = [];
  if (steps.length > 0) {
    notes.push(
      `Steps of at most ${mostText(rules)} beyond what is shown on the day, ${rules.daysBetween} days or more apart: this project’s own rule (design). No published support for “10 % a week” was found.`,
      'Every step is with everyone who goes. Plan again when an outing is recorded or missed.',
    );
  }
  if (steps.some((step) => step.isAssumption)) {
    notes.push('The size of the first walk is an assumption, and so are the steps built on it.');
  }
  if (leftOut > 0) {
    notes.push(`${plural(leftOut, 'outing')} dated after today ${leftOut === 1 ? 'was' : 'were'} left out.`);
  }
  return [
    ...notes,
    ...inTheWay.map(({ reason }) => `Training in these steps does not settle this: ${reason}.`),
  ];
}
