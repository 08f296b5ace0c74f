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
    /** A reversal counts from this height after smoothing, which takes a metre or so off it (sources.md §15). */
    turningPointM: 4,
    coarsePostingM: 60,
    /** The band: the least smooth and the smoothest reading that are still believable. */
    bandHigh: { windowM: 40, turningPointM: 3 },
    bandLow: { windowM: 100, turningPointM: 10 },
    /** Sideways error of a line: at least a receiver's under open sky, at most so much is believed (fitted by truth:gain). */
    lineError: { leastM: 4, mostM: 15 },
    /** A reversal is so many times higher than the noise that the line's error makes: for the value and for the band's top. */
    noiseMultiples: { value: 4.5, high: 2.5 },
    /** What smoothing takes off a turning point is given back in full where the noise is this low, not at all where it is that high (fitted by truth:gain). */
    restored: { allBelowM: 3, noneAboveM: 5 },
    /** Voids up to this length are bridged along the line; longer ones leave the route partly covered. */
    bridgeM: 100,
  },

  /** Ground on which snow slides. */
  steepGround: {
    /** Most slides start on 30 to 50° (avalanche.org). Steeper ground counts too: on the tiles it has such parts. */
    slideFromDeg: 30,
    /** Coarse tiles flatten slopes: on them ground counts from so much less. */
    coarseMarginDeg: 5,
    /** Stretches nearer to each other than this are one. */
    joinM: 100,
  },

  treeline: {
    /** Treeline may lie this far below the latitude rule (Katahdin lies 1,172 m below it: sources.md §6). */
    belowLatitudeRuleM: 1200,
    /** A program's own treeline where a route states none; `null`: none. */
    programM: null as number | null,
  },

  /** Where on a route a leader looks at the watch. */
  checkpoints: {
    /** A place of the file belongs to the line within this distance; a start, top or end takes the name of one so near. */
    snapM: 75,
    ownNameM: 100,
    /** Nearer to each other along the line than this, two places are one; chosen ones keep the second distance. */
    apartM: 150,
    chosenApartM: 600,
    /** At most so many are chosen on the way up, half as many on another way down. */
    most: 4,
    /** The line is looked at in such steps, over this reach to both sides. */
    stepM: 20,
    reachM: 100,
    /** A bend turns by so much and stands alone over this length; a shoulder is where ground so steep eases to a third. */
    bendDeg: 60,
    seriesM: 250,
    steepRatio: 0.12,
    /** A way with nothing on it is parted where it is longer, or climbs further, than this. */
    longWayM: 2500,
    longClimbM: 300,
    /** So many places of the file are taken at most. */
    mostNamed: 24,
  },

  /** The navigator's leg table. */
  routeCard: {
    /** A grade over 200 m from which a leg is called steep, rise over run. */
    steepRatio: 0.3,
    /** A line so many times as long as the straight way winds: follow the path, not the bearing. */
    windingRatio: 1.3,
    /** Nearer than this a bearing says nothing: it is within the error of a receiver and of the line. */
    leastStraightM: 20,
  },

  stormWindow: {
    /** Minutes before solar noon, and local clock time: the earlier is the deadline. */
    beforeSolarNoonMin: 60,
    latestClock: '12:00',
    probability: 0.9,
    stretchProbability: 0.75,
    /** Who is late at a checkpoint is slow today: the rest takes longer by this share of the part walked, cubed. */
    lateShare: 1,
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

  plan: {
    /** A spare date is looked for so many weeks after the trip's. */
    spareWeeks: 3,
  },

  /** The drive and the night before. */
  journey: {
    /** At the trailhead before the start: boots, heads counted, packs. After the walk: the same back. */
    readyMin: 20,
    packUpMin: 20,
    /** At the meeting place before leaving it: heads counted, kit looked through. */
    gatherMin: 15,
    /** From waking to meeting, and when people are asleep. */
    getUpMin: 45,
    bedtime: '21:30',
    /** Hours of sleep below which a plan warns: the low ends for the age (Paruthi 2016, Watson 2015; from memory). */
    leastSleepH: { '8-11': 9, '12-14': 8, '15-17': 8, adult: 7 } as Record<string, number>,
  },

  stops: {
    /** Standing minutes per moving hour (common practice, no source), worth this many hours of clocked walking. */
    minPerMovingHour: 10,
    priorHours: 6,
  },

  pace: {
    /** Relative spread of the prior: shared by kilometres and metres, and of each alone; up and down apart. */
    sharedSpread: 0.45,
    ownSpread: 0.3,
    /** Relative noise of a day, of a leg, and of the rule's shape. */
    dayNoise: 0.1,
    legNoise: 0.05,
    shapeNoise: 0.02,
    /** Metres on ground steeper than any the pace was learned on take longer by this share, and are in doubt by the other. */
    steeperTime: 0.3,
    steeperDoubt: 0.3,
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
    /** Both ends of a track within this distance of the meeting place, wherever its rounding puts it, are cut. */
    homeRadiusM: 500,
    /** A long step that was covered no faster may be a drive recorded with few points; a faster one is a bad fix. */
    fastestMs: 45,
    /** Within this distance of one place for so long is a rest: what the receiver wanders there is no distance. */
    restM: 20,
    restMin: 3,
    /** A line that its own jitter lengthens by no more than this share counts as recorded. */
    jitterShare: 0.03,
    /** Bends under what the receiver wanders in so many seconds, and never over so many metres, are jitter. */
    jitterS: 120,
    jitterMostM: 25,
    /**
     * Where the points are too far apart in time to tell: twice the 4.9 m of a phone under open sky (van Diggelen and
     * Enge 2015; from memory), for trees.
     */
    jitterUnknownM: 10,
    /** Two recordings with clocks that overlap are one walk where their lengths are so alike. */
    sameWalkShare: 0.8,
    /** A day by hand is the recorded one where distance and climb differ by no more than this. */
    sameEntryShare: 0.05,
  },

  /** The day's recording beside its plan, and the record of predictions. */
  afterDay: {
    /** A place is passed within this distance; within the second of the nearest approach the group is still there. */
    passedWithinM: 100,
    samePlaceM: 20,
    /** Between two fixes no further apart in time the group walked the straight line. */
    straightMin: 10,
    /** Days, and outings at most, that the record of predictions looks back on. */
    recordDays: 365,
    recordOutings: 60,
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

  /**
   * The training plan. Steps, days and the assessment walk are design: no published support for "10 % a week" was found
   * (sources.md §8). Weekly to fortnightly, and a last big outing 7 to 14 days before, are common practice.
   */
  training: {
    /** A step goes at most so far beyond what is shown on its day, and never beyond a stretch. */
    stepMinor: 0.15,
    stepAdult: 0.2,
    /** Days between two steps: usual and most. */
    daysBetween: 7,
    mostDaysBetween: 14,
    /** Days from the last big outing to the trip. */
    leastRecoveryDays: 7,
    mostRecoveryDays: 14,
    /** The weekday that steps fall on where it can be had: 1 Monday to 7 Sunday, 0 for any. */
    weekday: 6,
    /** The first walk of people of whom nothing recent is known. */
    assessmentMinor: { distanceM: 5000, gainM: 150 },
    assessmentAdult: { distanceM: 8000, gainM: 300 },
    /** On the distance day the climb, and on the gain day the distance, is at most this share of the route's. */
    easedMinor: 0.97,
    easedAdult: 0.9,
    /** A later trip date is looked for so far ahead. */
    horizonDays: 730,
    /** A known route may lack so much of a step, to be added on level ways or a stair. */
    mostAddedShare: 0.25,
    /** Known routes told for a step; height of the stair that is told; repeats of a hill at most. */
    routesEach: 3,
    stairM: 20,
    mostRepeats: 10,
    /** Steps of a ladder of known routes at most. */
    mostRungs: 8,
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

  /** Leaders that a party, and each part of it when it divides, has at least (common practice, no source). */
  party: {
    leastLeadersEachPart: { '8-11': 2, '12-14': 2, '15-17': 2, adult: 1 },
    participantsPerLeader: { '8-11': 6, '12-14': 8, '15-17': 10, adult: 12 },
  },

  /** Thresholds of the morning card and times of the pages for people. */
  cards: {
    /** Wind on open ground: steady, and in gusts. */
    windKmPerH: 40,
    gustKmPerH: 60,
    /** Thunder so soon after the late time back below treeline is too soon. */
    thunderMarginMin: 60,
    visibilityM: 200,
    /** A headache above this height means no higher (sources.md §4). */
    headacheStopM: 2500,
    /** The office calls for help so long after the late time back. */
    callOutAfterLateMin: 60,
  },

  /** Water, food and what a pack may weigh. */
  supplies: {
    /** Litres an hour: cool; warm, or above `highM`; weather or height not known; the range and cap (sources.md §9, §15). */
    waterLPerH: { cool: 0.5, warmOrHigh: 0.75, notKnown: 0.5, least: 0.33, most: 1 },
    highM: 3000,
    /** Nobody carries less; the reserve on top of what is drunk; water is packed in steps of so much. */
    leastWaterL: 2,
    reserveL: 0.5,
    waterStepL: 0.5,
    /** Food an hour of the late day, and at least this share of the day's work with its margin (sources.md §2, §9). */
    kcalPerHMinor: 250,
    kcalPerHAdult: 300,
    leastShareOfWork: 0.5,
    workMargin: 0.15,
    emergencyKcal: 500,
    /** Shares of the food on the way; snacks are the rest. Kilocalories in a kilogram of mixed dry and fresh food. */
    lunchShare: 0.35,
    treatShare: 0.1,
    kcalPerKg: 3500,
    /** Kit in one pack without water and food, kg, and what of it is shared by the group. */
    kitKg: { '8-11': 2, '12-14': 2.8, '15-17': 3.5, adult: 5 } as Record<string, number>,
    sharedKitKg: { '8-11': 0.2, '12-14': 0.4, '15-17': 0.6, adult: 1.5 } as Record<string, number>,
    /** Pack over body mass (sources.md §8): children 10 to 20 %; adults as a march with loads is begun. */
    packShare: { minorTarget: 0.1, minorWarn: 0.15, minorConflict: 0.2, adultTarget: 0.2 },
  },

  /** How much of the kit a party takes. */
  kit: {
    /** People to one group shelter, first-aid kit, spare lamp and toilet kit. */
    peoplePerShelter: 8,
    peoplePerFirstAidKit: 12,
    peoplePerSpareLamp: 6,
    peoplePerToiletKit: 6,
    blisterDressingsEach: 2,
    /** Hours that a phone records and shows the way on one charge, and in the cold, at or below so many °C. */
    phoneHours: 6,
    phoneHoursCold: 3,
    coldC: 5,
  },

  /** How sure an order is: what is drawn, and from when the answer is said to be clear. */
  acceptability: {
    draws: 1000,
    /** So many of the best routes are drawn. */
    leading: 200,
    /** The same seed, the same answer. */
    seed: 1,
    /** Spread (of the logarithm) of each weight: nine draws in ten lie between half and twice the weight. */
    weightSpread: 0.42,
    /** Spread (of the logarithm) of what was shown: half of the most that detraining takes. */
    shownSpread: 0.08,
    /** The first route is a clear winner from this share of first places (sources.md §13). */
    clearShare: 0.5,
    /** Neighbours whose order changes in so large a share of the draws are level. */
    levelShare: 0.25,
  },

  /** The season board. */
  season: {
    /** Routes start at one trailhead where they are so near, or have its name and are no further apart than the second. */
    samePlaceM: 150,
    sameNameM: 2000,
    /** The board is looked for so long at most; then the best found is given, and how much better it could be. */
    solveS: 60,
    /** So many judgements (cohorts × dates × routes) and ways of seating one party are looked at in one board at most. */
    mostJudgements: 1_000_000,
    mostPacks: 400,
  },

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
  [/^\/gain\/(windowM|turningPointM|band(Low|High)\/.*)$/, 0.1, 1000],
  [/^\/gain\/lineError\/(leastM|mostM)$/, 0, 100],
  [/^\/gain\/noiseMultiples\//, 0, 10],
  // A program may be more careful with snow slides, not less.
  [/^\/steepGround\/slideFromDeg$/, 15, 30],
  [/^\/steepGround\/coarseMarginDeg$/, 5, 15],
  [/^\/steepGround\/joinM$/, 0, 1000],
  [/^\/treeline\/programM$/, -430, 6000],
  [/^\/checkpoints\/(snapM|ownNameM)$/, 10, 500],
  [/^\/checkpoints\/(apartM|chosenApartM|seriesM|longWayM|longClimbM)$/, 50, 10_000],
  [/^\/checkpoints\/mostNamed$/, 0, 100],
  [/^\/checkpoints\/most$/, 0, 12],
  [/^\/checkpoints\/stepM$/, 5, 200],
  [/^\/checkpoints\/reachM$/, 20, 500],
  [/^\/checkpoints\/bendDeg$/, 20, 180],
  [/^\/checkpoints\/steepRatio$/, 0.02, 1],
  [/^\/routeCard\/steepRatio$/, 0.05, 2],
  [/^\/routeCard\/windingRatio$/, 1, 10],
  [/^\/routeCard\/leastStraightM$/, 1, 500],
  [/^\/stormWindow\/(probability|stretchProbability)$/, 0.01, 0.999],
  [/^\/stormWindow\/lateShare$/, 0, 3],
  [/^\/day\/roundStartMin$/, 1, 60],
  [/^\/day\/mealMin$/, 0, 600],
  [/^\/plan\/spareWeeks$/, 0, 26],
  [/^\/journey\/(gatherMin|readyMin|packUpMin|getUpMin)$/, 0, 240],
  [/^\/journey\/leastSleepH\//, 0, 14],
  [/^\/stops\/priorHours$/, 0.1, 1000],
  [/^\/pace\/(sharedSpread|ownSpread)$/, 0.01, 2],
  [/^\/pace\/(dayNoise|legNoise|shapeNoise)$/, 0.001, 2],
  [/^\/pace\/steeper(Time|Doubt)$/, 0, 2],
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
  [/^\/recording\/(sameEntryShare|jitterShare)$/, 0, 0.5],
  [/^\/recording\/fastestMs$/, 15, 100],
  [/^\/recording\/(restM|jitterMostM|jitterUnknownM)$/, 1, 50],
  [/^\/recording\/restMin$/, 1, 60],
  [/^\/recording\/jitterS$/, 0, 600],
  [/^\/afterDay\/passedWithinM$/, 20, 500],
  [/^\/afterDay\/(samePlaceM|straightMin)$/, 1, 100],
  [/^\/afterDay\/(recordDays|recordOutings)$/, 1, 1000],
  [/^\/detraining\/lossMax$/, 0, 0.9],
  [/^\/detraining\/(lossDays|windowDays.*|rockClassDays)$/, 1, 3650],
  [/^\/training\/step(Minor|Adult)$/, 0, 0.5],
  [/^\/training\/(daysBetween|mostDaysBetween)$/, 6, 28],
  [/^\/training\/(least|most)RecoveryDays$/, 1, 28],
  [/^\/training\/weekday$/, 0, 7],
  [/^\/training\/assessment(Minor|Adult)\/distanceM$/, 500, 20_000],
  [/^\/training\/assessment(Minor|Adult)\/gainM$/, 10, 1000],
  [/^\/training\/eased(Minor|Adult)$/, 0.5, 1],
  [/^\/training\/mostAddedShare$/, 0, 1],
  [/^\/training\/horizonDays$/, 30, 1500],
  [/^\/training\/(stairM|routesEach|mostRepeats)$/, 1, 200],
  [/^\/training\/mostRungs$/, 1, 20],
  [/^\/massKg\//, 10, 250],
  [/^\/limits\/(stretch.*|driveStretch|driveEstimateRuledOut)$/, 1, 3],
  [/^\/drive\/(circuityMountain)$/, 1, 5],
  [/^\/drive\/kmPerH$/, 1, 200],
  [/^\/party\//, 1, 100],
  [/^\/cards\/(windKmPerH|gustKmPerH)$/, 5, 200],
  [/^\/cards\/(thunderMarginMin|callOutAfterLateMin)$/, 0, 600],
  [/^\/cards\/(visibilityM|headacheStopM)$/, 0, 6000],
  [/^\/aim\//, 0.05, 2],
  // Nobody is told to drink more than 1 L in an hour.
  [/^\/supplies\/waterLPerH\//, 0.1, 1],
  [/^\/supplies\/highM$/, 0, 6000],
  [/^\/supplies\/(leastWaterL|reserveL)$/, 0, 10],
  [/^\/supplies\/waterStepL$/, 0.1, 2],
  [/^\/supplies\/kcalPerH(Minor|Adult)$/, 50, 1000],
  [/^\/supplies\/(leastShareOfWork|workMargin)$/, 0, 1],
  [/^\/supplies\/emergencyKcal$/, 0, 5000],
  [/^\/supplies\/(lunchShare|treatShare)$/, 0, 0.5],
  [/^\/supplies\/kcalPerKg$/, 1000, 9000],
  [/^\/supplies\/(kitKg|sharedKitKg)\//, 0, 40],
  [/^\/supplies\/packShare\//, 0.02, 0.5],
  [/^\/kit\/peoplePer/, 1, 100],
  [/^\/kit\/blisterDressingsEach$/, 0, 20],
  [/^\/kit\/phoneHours/, 1, 100],
  [/^\/kit\/coldC$/, 0, 20],
  [/^\/acceptability\/draws$/, 100, 20_000],
  [/^\/acceptability\/leading$/, 1, 1000],
  [/^\/acceptability\/(weightSpread|shownSpread)$/, 0, 1.5],
  [/^\/acceptability\/clearShare$/, 0.5, 1],
  [/^\/acceptability\/levelShare$/, 0.05, 0.5],
  [/^\/season\/same(Place|Name)M$/, 0, 20_000],
  [/^\/season\/solveS$/, 0.1, 600],
  [/^\/season\/mostJudgements$/, 1, 10_000_000],
  [/^\/season\/mostPacks$/, 1, 10_000],
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
