/**
 * Settings of the training plan. Steps, days and the assessment walk are design: no published support for "10 % a week"
 * was found (sources.md §8). Weekly to fortnightly, and a last big outing 7 to 14 days before, are common practice.
 */
import { closed } from '../schema.ts';
import { amount, topic } from './setting.ts';

const assessment = (distanceM: number, gainM: number, description: string) =>
  topic(description, {
    distanceM: amount(distanceM, 500, 20_000, 'its length'),
    gainM: amount(gainM, 10, 1000, 'its climb'),
  });

export const training = closed({
  stepMinor: amount(0.15, 0, 0.5, 'minors: a step at most so far beyond what is shown, never past a stretch'),
  stepAdult: amount(0.2, 0, 0.5, 'the same for adults'),
  daysBetween: amount(7, 6, 28, 'usual days between two steps (common practice)'),
  mostDaysBetween: amount(14, 6, 28, 'days between two steps at most (common practice)'),
  leastRecoveryDays: amount(7, 1, 28, 'days from the last big outing to the trip at least (common practice)'),
  mostRecoveryDays: amount(14, 1, 28, 'and at most (common practice)'),
  weekday: amount(6, 0, 7, 'weekday of the steps where it can be had: 1 Monday to 7 Sunday, 0 for any'),
  assessmentMinor: assessment(5000, 150, 'the first walk of people of whom nothing recent is known: minors'),
  assessmentAdult: assessment(8000, 300, 'the same for adults'),
  easedMinor: amount(
    0.97,
    0.5,
    1,
    'on the distance day the climb, and on the gain day the distance, is at most this share of the route’s: minors',
  ),
  easedAdult: amount(0.9, 0.5, 1, 'the same for adults'),
  horizonDays: amount(730, 30, 1500, 'a later trip date is looked for so far ahead'),
  mostAddedShare: amount(0.25, 0, 1, 'a known route may lack this of a step: level ways or a stair add it'),
  routesEach: amount(3, 1, 200, 'known routes named for a step at most'),
  stairM: amount(20, 1, 200, 'height of the stair that is named'),
  mostRepeats: amount(10, 1, 200, 'repeats of a hill at most'),
  mostSteps: amount(
    8,
    1,
    60,
    'training days to one route at most; more are told as “not this season” (about a season’s weeks; no source)',
  ),
  mostRungs: amount(8, 1, 20, 'steps of a ladder of known routes at most'),
});
