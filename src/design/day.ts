/** Settings of the day: its window, its hours, the drive and the night before. */
import Type from 'typebox';
import { closed, orNull } from '../schema.ts';
import { amount, byAge, clock, topic } from './setting.ts';

export const stormWindow = topic('the deadline below treeline is the earlier of the first two', {
  beforeSolarNoonMin: amount(60, 0, 720, 'minutes before solar noon'),
  latestClock: clock('12:00', 'local time'),
  probability: amount(0.9, 0.01, 0.999, 'of being below treeline by the deadline, for a fit'),
  planProbability: amount(
    0.96,
    0.01,
    0.999,
    'of the same for the start that is planned, where there is room: at the latest start the sheet turns a slow group round',
  ),
  stretchProbability: amount(0.75, 0.01, 0.999, 'the same, for a stretch'),
  lateShare: amount(1, 0, 3, 'who is late is slow: the rest takes longer by this × part walked, cubed'),
});

export const daylight = closed({
  beforeDuskMin: amount(60, 0, 720, 'the late time back lies so long before civil dusk'),
});

export const day = closed({
  earliestStart: clock('04:00', 'start where a cohort states no earliest one'),
  usualStart: clock('08:00', 'a start that nothing forces earlier'),
  usualBack: clock('17:00', 'a day starts earlier than usual to be back by then when it is slow'),
  roundStartMin: amount(5, 1, 60, 'starts are rounded to so many minutes'),
  timeZone: orNull(Type.String({ minLength: 1, maxLength: 200 }), {
    default: null,
    description: 'IANA zone where a route states none, such as America/Denver; null: by the boundaries',
  }),
  mealMin: amount(30, 0, 600, 'length of a meal'),
  mealFromMovingMin: amount(240, 0, 1440, 'moving time from which a day has one'),
});

export const climate = topic(
  'snow, heat and cold by latitude, height and time of year (design; see earth/climate.ts): questions, no forecast',
  {
    fallsBelowC: amount(2, -10, 10, 'snow may fall and lie where a usual day of the date is colder'),
    meltDays: amount(45, 0, 180, 'and lies so long after a usual day is above 0 °C'),
    hotDayK: amount(12, 0, 30, 'the afternoon of a hot day over a usual day of the date'),
    coldDayK: amount(8, 0, 30, 'a cold day below a usual one'),
    hotFromC: amount(36, 20, 60, 'from so hot an afternoon a day needs a start at dawn'),
    veryHotFromC: amount(40, 20, 60, 'from here nobody is out in the heat unasked'),
    heatBeforeNoonMin: amount(
      150,
      0,
      720,
      'the heat begins so many minutes before solar noon: about 10 by the sun (NPS advice for canyons, from memory)',
    ),
    dawnWithinMin: amount(45, 0, 240, 'a start so soon after civil dawn is a start at dawn'),
  },
);

export const plan = closed({
  spareWeeks: amount(3, 0, 26, 'a spare date is looked for so many weeks after the trip’s'),
});

export const journey = topic('the drive and the night before', {
  readyMin: amount(20, 0, 240, 'at the trailhead before the start: boots, heads counted, packs'),
  packUpMin: amount(20, 0, 240, 'after the walk: the same back'),
  gatherMin: amount(15, 0, 240, 'at the meeting place before leaving: heads counted, kit looked through'),
  getUpMin: amount(45, 0, 240, 'from waking to meeting'),
  bedtime: clock('21:30', 'when people are asleep'),
  earliestWakingH: byAge(
    [4.5, 3, 2.5, 1],
    0,
    12,
    'hours after midnight before which nobody of this age is woken (design); up to one earlier is a stretch',
  ),
  mostAwakeH: amount(
    16,
    6,
    36,
    'hours awake at the end of the drive home; up to one more is a stretch (17 h awake drive as with 0.05 % of alcohol: Dawson & Reid 1997, from memory)',
  ),
  leastSleepH: byAge(
    [9, 8, 8, 7],
    0,
    14,
    'hours of sleep below which a plan warns: the low ends for the age (Paruthi 2016, Watson 2015; from memory)',
  ),
});

export const stops = closed({
  minPerMovingHour: amount(
    15,
    0,
    120,
    'standing minutes per moving hour, meals aside, where none are clocked (design, by 42 real days: truth:days)',
  ),
  spreadMinPerHour: amount(
    10,
    0,
    120,
    'and how they differ from day to day, as a standard deviation (the same days)',
  ),
  priorHours: amount(6, 0.1, 1000, 'what that is worth, in hours of clocked walking'),
});

export const drive = closed({
  circuityMountain: amount(1.45, 1, 5, 'road distance over straight line (Kim 2015: 1.435 in mountains)'),
  kmPerH: amount(50, 1, 200, 'speed on the road'),
});

export const altitude = closed({
  lowSleepM: amount(2800, 0, 9000, 'a bed below this height is of low risk (WMS 2024)'),
  highSleepM: amount(3500, 0, 9000, 'a bed above this height is of high risk (WMS 2024)'),
  highSummitM: amount(3500, 0, 9000, 'a top above this height is of moderate risk for who lives low'),
  lowHomeM: amount(1200, 0, 9000, 'a home below this height lies low (WMS 2024)'),
  historyFromM: amount(
    2500,
    0,
    9000,
    'an altitude illness before counts where the day goes above this height (where it begins, WMS 2024)',
  ),
  minorsRiseM: amount(
    2500,
    0,
    9000,
    'for minors a top so far above the bed is at least a moderate risk (design)',
  ),
});
