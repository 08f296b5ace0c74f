/**
 * The one settings file: every limit and constant of this project's own ("design"), and the rules of the
 * trade that have no source. A program changes any of them through `withChanges`; results name `version`.
 */
import { EngineError } from './errors.ts';
import { M_PER_FT, M_PER_MILE } from './units.ts';

export const DESIGN = {
  version: 'design-1',

  /** Trade rule of walking time: 30 min a mile and 1 h per 1,000 ft climbed, stops extra (common practice, no source). */
  tradeRule: { minPerKm: 30 / (M_PER_MILE / 1000), minPerClimbM: 60 / (1000 * M_PER_FT) },

  gain: {
    windowM: 60,
    /** A reversal counts once it is this high (sources.md §15); on coarse tiles the second value. */
    turningPointM: 5,
    coarseTurningPointM: 10,
    coarsePostingM: 60,
    /** The band: the least smooth and the smoothest reading that are still believable. */
    bandHigh: { windowM: 20, turningPointM: 3 },
    bandLow: { windowM: 100, turningPointM: 10 },
    /** Voids up to this length are bridged along the line; longer ones leave the route partly covered. */
    bridgeM: 100,
  },

  treeline: {
    /** Treeline may lie this far below the latitude rule (Katahdin lies 1,172 m below it: sources.md §6). */
    belowLatitudeRuleM: 1200,
    /** A program's own treeline where a route states none; `null`: none. */
    programM: null as number | null,
  },

  stormWindow: {
    /** Minutes before solar noon, and local clock time: the earlier is the deadline. */
    beforeSolarNoonMin: 60,
    latestClock: '12:00',
    probability: 0.9,
    stretchProbability: 0.75,
  },

  daylight: { beforeDuskMin: 60 },

  day: {
    /** Start where a cohort states no earliest one. */
    earliestStart: '04:00',
    /** A start that nothing forces earlier. */
    usualStart: '08:00',
    roundStartMin: 5,
    mealMin: 30,
    mealFromMovingMin: 240,
  },

  stops: {
    /** Standing minutes per moving hour (common practice, no source), worth this many hours of clocked walking. */
    minPerMovingHour: 10,
    priorHours: 6,
  },

  pace: {
    /** Relative spread of the prior: shared by kilometres and metres, and of each alone; up and down apart. */
    sharedSpread: 0.45,
    ownSpread: 0.15,
    /** Relative noise of a day, of a leg, and of the rule's shape. */
    dayNoise: 0.1,
    legNoise: 0.05,
    shapeNoise: 0.06,
    /** Weight of the prior noise level, in observations. */
    priorDegreesOfFreedom: 8,
    /** Outings that a pace is learned from at most. */
    mostOutings: 40,
    /** No rate falls below this share of the prior's. */
    rateFloor: 0.2,
    surface: {
      trail: { time: 1, doubt: 0 },
      rough: { time: 1.25, doubt: 0.05 },
      talus: { time: 1 / 0.6, doubt: 0.1 }, // Tobler 1993, off path 3/5
      snow: { time: 1 / 0.6, doubt: 0.15 }, // Tobler 1993, off path 3/5
    },
  },

  /** What is a walk in a recording with a clock, and what is not. */
  recording: {
    /** A steady speed over this window that nobody on foot keeps: a ride. It lasts while it is over the second. */
    windowS: 120,
    rideMs: 3.5,
    walkMostMs: 2.5,
    /** So much height a second over the window is a lift, up or down, however slow it is. */
    liftUpMs: 0.6,
    liftDownMs: 1,
    /** A ride leads at least so far; a walk beside a ride lasts and reaches at least so much, else it belongs to it. */
    leastRideM: 300,
    leastWalkMin: 10,
    leastWalkM: 150,
    /** Within this distance of one place for so long is a stand. At an end of the recording it is cut off. */
    jitterM: 60,
    standMin: 20,
    /** A stand inside the day that is longer is no stop of a walk. */
    longStandMin: 180,
    /** Nothing recorded for longer, and moved: a walk only if it is short and the speed is one of walking. */
    dropOutMin: 2,
    dropOutM: 200,
    /** Slower than this, over a window of so many seconds, is standing. */
    standingMs: 0.15,
    smoothS: 20,
    /** Share of a climb's or descent's length that must have times for its pace to count. */
    leastTimedShare: 0.95,
    /** A time so far from both its neighbours is a jump of the clock; across a longer break only one side is kept. */
    clockJumpMin: 10,
    clockBreakH: 20,
    /** Both ends of a track within this distance of the meeting place are cut. */
    homeRadiusM: 500,
    /** Two recordings with clocks that overlap are one walk where their lengths are so alike. */
    sameWalkShare: 0.8,
    /** A day by hand is the recorded one where distance and climb differ by no more than this. */
    sameEntryShare: 0.05,
  },

  detraining: {
    /** loss(t) = lossMax·(1 − e^(−t/lossDays)): fit to Coyle 1984 (sources.md §8). */
    lossMax: 0.159,
    lossDays: 22,
    /** Full memory up to the window, smooth fade to nothing at twice the window. */
    windowDaysMinor: 42,
    windowDaysAdult: 84,
    /** A rock class counts as walked before for this long. */
    rockClassDays: 730,
  },

  /** Mass of a person and day pack in kg for the age band (design; round figures from memory of growth tables). */
  massKg: { '8-11': 36, '12-14': 53, '15-17': 68, adult: 82 } as Record<string, number>,

  limits: {
    /** r = demand / capacity: fits up to 1; stretch up to these. */
    stretchMinor: 1.1,
    stretchAdult: 1.25,
    driveStretch: 1.25,
    driveEstimateRuledOut: 1.6,
  },

  drive: {
    /** Road distance over straight line (Kim 2015: 1.435 in mountains). */
    circuityMountain: 1.45,
    kmPerH: 50,
  },

  altitude: { lowSleepM: 2800, highSleepM: 3500, highSummitM: 3500, lowHomeM: 1200 },

  aim: { comfort: 0.75, challenge: 0.95 },

  /** Weight of each criterion in the score. */
  weights: {
    distance: 1,
    gain: 1,
    effort: 1,
    rockClass: 1,
    altitude: 0.5,
    stormWindow: 1.5,
    daylight: 0.5,
    drive: 0.5,
    roadAccess: 0.5,
    partySize: 0.5,
    season: 0.5,
    aim: 1.5,
  },
};

export type Design = typeof DESIGN;
export type AgeBand = '8-11' | '12-14' | '15-17' | 'adult';

const CLOCK = /^([01]\d|2[0-3]):[0-5]\d$/;

/** Allowed values by pointer, where they are not simply 0 or more. The last pattern that matches counts. */
const RANGES: readonly (readonly [RegExp, number, number])[] = [
  [/./, 0, 1e6],
  [/^\/tradeRule\//, 1e-3, 1000],
  [/^\/gain\/(windowM|turningPointM|coarseTurningPointM|band(Low|High)\/.*)$/, 0.1, 1000],
  [/^\/treeline\/programM$/, -430, 6000],
  [/^\/stormWindow\/(probability|stretchProbability)$/, 0.01, 0.999],
  [/^\/day\/roundStartMin$/, 1, 60],
  [/^\/day\/mealMin$/, 0, 600],
  [/^\/stops\/priorHours$/, 0.1, 1000],
  [/^\/pace\/(sharedSpread|ownSpread)$/, 0.01, 2],
  [/^\/pace\/(dayNoise|legNoise|shapeNoise)$/, 0.001, 2],
  [/^\/pace\/priorDegreesOfFreedom$/, 3, 1000],
  [/^\/pace\/mostOutings$/, 1, 200],
  [/^\/pace\/rateFloor$/, 0.01, 1],
  [/^\/pace\/surface\/.*\/time$/, 0.5, 10],
  [/^\/recording\/(windowS|smoothS)$/, 10, 600],
  [/^\/recording\/(rideMs|walkMostMs)$/, 1.5, 10],
  [/^\/recording\/lift(Up|Down)Ms$/, 0.3, 5],
  [/^\/recording\/(leastRideM|leastWalkM|dropOutM)$/, 10, 2000],
  [/^\/recording\/(leastWalkMin|standMin|clockJumpMin)$/, 1, 240],
  [/^\/recording\/jitterM$/, 5, 200],
  [/^\/recording\/longStandMin$/, 30, 1440],
  [/^\/recording\/dropOutMin$/, 0.5, 60],
  [/^\/recording\/standingMs$/, 0.01, 0.5],
  [/^\/recording\/(leastTimedShare|sameWalkShare)$/, 0.5, 1],
  [/^\/recording\/clockBreakH$/, 1, 240],
  // A program may ask for more privacy, not for less.
  [/^\/recording\/homeRadiusM$/, 500, 5000],
  [/^\/recording\/sameEntryShare$/, 0, 0.5],
  [/^\/detraining\/lossMax$/, 0, 0.9],
  [/^\/detraining\/(lossDays|windowDays.*|rockClassDays)$/, 1, 3650],
  [/^\/massKg\//, 10, 250],
  [/^\/limits\/(stretch.*|driveStretch|driveEstimateRuledOut)$/, 1, 3],
  [/^\/drive\/(circuityMountain)$/, 1, 5],
  [/^\/drive\/kmPerH$/, 1, 200],
  [/^\/aim\//, 0.05, 2],
  [/^\/weights\//, 0, 1000],
];

function refuse(pointer: string, wanted: string): never {
  throw new EngineError('bad-settings', `settings: ${pointer} must be ${wanted}`, { pointer });
}

function checkedNumber(change: unknown, pointer: string): number {
  const [, least = 0, most = 0] = RANGES.findLast(([pattern]) => pattern.test(pointer)) ?? [];
  if (typeof change === 'number' && change >= least && change <= most) return change;
  return refuse(pointer, `a number from ${least} to ${most}`);
}

function merged(base: unknown, change: unknown, pointer: string): unknown {
  if (typeof base === 'object' && base !== null) {
    if (typeof change !== 'object' || change === null || Array.isArray(change)) {
      return refuse(pointer === '' ? 'the whole' : pointer, 'an object');
    }
    const result: Record<string, unknown> = { ...base };
    for (const [key, value] of Object.entries(change)) {
      if (!Object.hasOwn(base, key)) {
        const known = Object.keys(base).join(', ');
        return refuse(`${pointer}/${key}`, `left out: it is not a setting; known here: ${known}`);
      }
      result[key] = merged(result[key], value, `${pointer}/${key}`);
    }
    return result;
  }
  // The one setting that may be "none".
  if (pointer === '/treeline/programM' && change === null) return null;
  if (typeof base !== 'string') return checkedNumber(change, pointer);
  if (typeof change !== 'string' || change === '') return refuse(pointer, 'a text');
  if (CLOCK.test(base) && !CLOCK.test(change)) return refuse(pointer, 'a time of day such as "04:30"');
  return change;
}

/**
 * The settings with a program's changes laid over them; only what is named changes.
 * @throws EngineError `bad-settings` on an unknown name or a value out of its range.
 */
export function withChanges(changes: unknown, base: Design = DESIGN): Design {
  const changed = merged(base, changes, '') as Design;
  if (Object.values(changed.weights).every((weight) => weight === 0)) refuse('/weights', 'not all 0');
  if (changed.stormWindow.stretchProbability > changed.stormWindow.probability) {
    refuse('/stormWindow/stretchProbability', 'at most the probability for a fit');
  }
  if (changed.recording.walkMostMs > changed.recording.rideMs) {
    refuse('/recording/walkMostMs', 'at most the speed of a ride');
  }
  return changed;
}
