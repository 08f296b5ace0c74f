/** What is a walk in a recording with a clock, and what is not. */
import { closed } from '../schema.ts';
import { amount } from './setting.ts';

export const recording = closed({
  windowS: amount(120, 10, 600, 'speeds are looked at over this window'),
  rideMs: amount(3.5, 1.5, 10, 'a steady speed over the window that nobody on foot keeps: a ride'),
  walkMostMs: amount(2.5, 1.5, 10, 'a ride lasts while it is faster than this'),
  liftUpMs: amount(0.6, 0.3, 5, 'so much height a second over the window is a lift, however slow it is'),
  liftDownMs: amount(1, 0.3, 5, 'the same on the way down'),
  leastRideM: amount(300, 10, 2000, 'a ride leads at least so far'),
  leastWalkMin: amount(10, 1, 240, 'a walk next to a ride lasts so long, else it belongs to the ride'),
  leastWalkM: amount(150, 10, 2000, 'and reaches at least so far'),
  jitterM: amount(60, 5, 200, 'who is within this distance of one place is waiting there'),
  standMin: amount(20, 1, 240, 'after so long; at an end of the recording it is cut off'),
  longStandMin: amount(180, 30, 1440, 'waiting longer inside the day is no stop of a walk'),
  dropOutMin: amount(2, 0.5, 60, 'nothing recorded for longer: a walk only if short and at walking speed'),
  dropOutM: amount(200, 10, 2000, 'what is short there'),
  standingMs: amount(0.15, 0.01, 0.5, 'slower than this is standing'),
  smoothS: amount(20, 10, 600, 'over a window of so many seconds'),
  leastTimedShare: amount(0.95, 0.5, 1, 'share of a climb’s or descent’s length with times for it to count'),
  clockJumpMin: amount(10, 1, 240, 'a time so far from both its neighbours is a jump of the clock'),
  clockBreakH: amount(20, 1, 240, 'across a longer break only one side is kept'),
  // A program may ask for more privacy, not for less.
  homeRadiusM: amount(500, 500, 5000, 'track ends so near the meeting place, wherever it may lie, are cut'),
  fastestMs: amount(45, 15, 100, 'a long step no faster may be a drive with few points; faster: a bad fix'),
  restM: amount(20, 1, 50, 'within this distance of one place'),
  restMin: amount(3, 1, 60, 'for so long is a rest: what the receiver wanders there is no distance'),
  jitterShare: amount(0.03, 0, 0.5, 'a line that its jitter lengthens by no more counts as recorded'),
  jitterS: amount(120, 0, 600, 'bends under what the receiver wanders in so many seconds are jitter'),
  jitterMostM: amount(25, 1, 50, 'but never over so many metres'),
  jitterUnknownM: amount(
    10,
    1,
    50,
    'where the points are too far apart in time to tell: twice the 4.9 m of a phone under open sky (van Diggelen and Enge 2015; from memory), for trees',
  ),
  sameWalkShare: amount(0.8, 0.5, 1, 'overlapping recordings are one walk where lengths are so alike'),
  sameEntryShare: amount(0.05, 0, 0.5, 'a day by hand is the recorded one if distance and climb are so near'),
});
