/** Settings of what a group has shown: its pace, what fades, the record of its days. */

import { closed } from '../schema.ts';
import { M_PER_FT, M_PER_MILE } from '../units.ts';
import { amount, byAge, topic } from './setting.ts';

export const tradeRule = topic('trade rule of walking time, stops extra (common practice, no source)', {
  minPerKm: amount(30 / (M_PER_MILE / 1000), 1e-3, 1000, '30 min a mile'),
  minPerClimbM: amount(60 / (1000 * M_PER_FT), 1e-3, 1000, '1 h for 1,000 ft climbed'),
});

const ground = (time: number, doubt: number, description: string) =>
  topic(description, {
    time: amount(time, 0.5, 10, 'times as long as on a trail'),
    doubt: amount(doubt, 0, 2, 'relative doubt of that'),
  });

export const pace = closed({
  sharedSpread: amount(0.45, 0.01, 2, 'relative spread of the prior, shared by kilometres and metres'),
  ownSpread: amount(0.3, 0.01, 2, 'and of each of them alone; up and down are apart'),
  dayNoise: amount(0.1, 0.001, 2, 'relative noise of a day'),
  legNoise: amount(0.05, 0.001, 2, 'of a leg'),
  splitNoise: amount(
    0.3,
    0,
    2,
    'of the way up and the way down of a day with one time, which is shared between them by rule',
  ),
  shapeNoise: amount(0.02, 0.001, 2, 'of the rule’s shape'),
  steeperTime: amount(0.3, 0, 2, 'metres on ground steeper than any learned on take longer by this share'),
  steeperDoubt: amount(0.3, 0, 2, 'and are in doubt by this one'),
  priorDegreesOfFreedom: amount(8, 3, 1000, 'weight of the prior noise level, in observations'),
  mostOutings: amount(40, 1, 200, 'outings that a pace is learned from at most'),
  rateFloor: amount(0.2, 0.01, 1, 'no rate falls below this share of the prior’s'),
  rock: closed(
    {
      minPerM: amount(0.03, 0, 1, 'a metre with hands takes longer by this, for one person alone'),
      minPerMEach: amount(0.005, 0, 1, 'and by this for each further person who waits for their turn'),
      doubt: amount(0.5, 0, 2, 'relative doubt of that'),
      unstatedM: amount(
        400,
        0,
        10_000,
        'metres of it, there and back, on class 3 and harder where none are stated',
      ),
    },
    'ground on which hands are needed (design, no source): by its length and the number of people',
  ),
  surface: closed({
    trail: ground(1, 0, 'a trail'),
    rough: ground(1.25, 0.05, 'rough ground'),
    talus: ground(1 / 0.6, 0.1, 'talus (Tobler 1993, off path 3/5)'),
    snow: ground(1 / 0.6, 0.15, 'snow (Tobler 1993, off path 3/5)'),
  }),
});

export const afterDay = topic('the day’s recording beside its plan, and the record of predictions', {
  passedWithinM: amount(100, 20, 500, 'a place is passed within this distance'),
  samePlaceM: amount(20, 1, 100, 'so near to the nearest approach the group is still there'),
  straightMin: amount(10, 1, 100, 'between fixes no further apart in time the group walked straight'),
  recordDays: amount(365, 1, 1000, 'days that the record of predictions looks back on'),
  recordOutings: amount(60, 1, 1000, 'and outings at most'),
});

export const detraining = closed({
  lossMax: amount(0.159, 0, 0.9, 'loss(t) = lossMax·(1 − e^(−t/lossDays)); fit: Coyle 1984 (sources.md §8)'),
  lossDays: amount(22, 1, 3650, 'see lossMax'),
  windowDaysMinor: amount(42, 1, 3650, 'minors: full memory so long, then a smooth fade to nothing at twice'),
  windowDaysAdult: amount(84, 1, 3650, 'the same for adults'),
  oldDays: amount(
    42,
    1,
    3650,
    'a single day longer ago than this, and none since, is a stretch at best (design)',
  ),
  rockClassDays: amount(730, 1, 3650, 'a rock class walked on two days counts as walked for this long'),
  rockClassOnceDays: amount(365, 1, 3650, 'one walked on a single day for this long'),
});

export const massKg = byAge(
  [36, 53, 68, 82],
  10,
  250,
  'mass of a person and day pack for the age band (design; round figures from memory of growth tables)',
);
