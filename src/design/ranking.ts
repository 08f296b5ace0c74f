/** Settings of the ranking: limits of the verdicts, weights, how sure an order is, the season board. */
import { amount, byAge, topic } from './setting.ts';

export const limits = topic('r = demand / capacity: fits up to 1, a stretch up to these', {
  stretchMinor: amount(1.1, 1, 3, 'what training changes, for minors'),
  stretchAdult: amount(1.25, 1, 3, 'what training changes, for adults'),
  driveStretch: amount(1.25, 1, 3, 'a drive'),
  driveEstimateRuledOut: amount(1.6, 1, 3, 'an estimated drive is ruled out beyond this'),
});

export const aim = topic('share of the effort shown that a day best has', {
  comfort: amount(0.75, 0.05, 2, 'of a group that wants comfort'),
  challenge: amount(0.95, 0.05, 2, 'of one that wants a challenge'),
});

export const party = topic(
  'leaders that a party, and each part of it when it divides, has at least (common practice, no source)',
  {
    leastLeadersEachPart: byAge([2, 2, 2, 1], 1, 100, 'leaders of each part of a party at least'),
    participantsPerLeader: byAge([6, 8, 10, 12], 1, 100, 'participants to one leader at most'),
    mostUnstated: amount(15, 1, 500, 'a larger party asks for the limit of the place before it fits'),
  },
);

export const acceptability = topic('how sure an order is, and from when the answer is said to be clear', {
  draws: amount(1000, 100, 20_000, 'samples of weights and of what was shown'),
  leading: amount(200, 1, 1000, 'so many of the best routes are sampled'),
  seed: amount(1, 0, 1e6, 'the same seed, the same answer'),
  weightSpread: amount(0.42, 0, 1.5, 'spread (logarithm) of each weight: nine in ten within half to twice'),
  shownSpread: amount(0.08, 0, 1.5, 'spread (logarithm) of what was shown: half the most detraining takes'),
  clearShare: amount(0.5, 0.5, 1, 'share of first places from which the first route wins (sources.md §13)'),
  levelShare: amount(0.25, 0.05, 0.5, 'neighbours whose order changes in so many of the samples are level'),
});

export const season = topic('the season board', {
  samePlaceM: amount(150, 0, 20_000, 'routes start at one trailhead where they are so near'),
  sameNameM: amount(2000, 0, 20_000, 'or have its name and are no further apart than this'),
  solveS: amount(60, 0.1, 600, 'the search for a board ends after so long; the best found is given'),
  mostJudgements: amount(1_000_000, 1, 10_000_000, 'judgements (cohorts × dates × routes) for one board'),
  mostPacks: amount(400, 1, 10_000, 'ways of seating one party that are looked at, at most'),
});

export const MOST_WEIGHT = 1000;

const weight = (value: number, description: string) => amount(value, 0, MOST_WEIGHT, description);

export const weights = topic('weight of each criterion in the score', {
  distance: weight(1, 'the length of the day'),
  gain: weight(1, 'its climb'),
  effort: weight(1, 'its work'),
  rockClass: weight(1, 'its hardest move'),
  altitude: weight(0.5, 'its heights'),
  stormWindow: weight(1.5, 'being below treeline in time'),
  daylight: weight(0.5, 'being back before dark'),
  drive: weight(0.5, 'the way to the trailhead'),
  roadAccess: weight(0.5, 'the road for the vehicles'),
  partySize: weight(0.5, 'the size of the party'),
  leaders: weight(0.5, 'how many lead'),
  season: weight(0.5, 'the time of year'),
  heat: weight(0.5, 'the heat of the day'),
  hours: weight(0.5, 'the night before and the driver’s day'),
  aim: weight(1.5, 'what the group wants of the day'),
});
