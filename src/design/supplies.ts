/** Settings of what is on the cards and in the packs. */
import { amount, byAge, topic } from './setting.ts';

export const cards = topic('thresholds of the morning card and times of the pages for people', {
  windKmPerH: amount(40, 5, 200, 'steady wind on open ground'),
  gustKmPerH: amount(60, 5, 200, 'wind in gusts'),
  thunderMarginMin: amount(60, 0, 600, 'thunder so soon after the late time below treeline is too soon'),
  visibilityM: amount(200, 0, 6000, 'seeing no further'),
  headacheStopM: amount(2500, 0, 6000, 'a headache above this height means no higher (sources.md §4)'),
  callOutAfterLateMin: amount(60, 0, 600, 'the office calls for help so long after the late time back'),
});

export const supplies = topic('water, food and what a pack may weigh', {
  // Nobody is told to drink more than 1 L in an hour.
  waterLPerH: topic('litres to drink in an hour (sources.md §9, §15)', {
    cool: amount(0.5, 0.1, 1, 'where it is cool'),
    warmOrHigh: amount(0.75, 0.1, 1, 'where it is warm, or above highM'),
    hot: amount(1, 0.1, 1, 'in a hot country and season'),
    notKnown: amount(0.5, 0.1, 1, 'weather or height not known'),
    least: amount(0.33, 0.1, 1, 'the low end of the range'),
    most: amount(1, 0.1, 1, 'the high end, and the cap'),
  }),
  waterByMass: amount(
    0.67,
    0,
    1,
    'how water and its cap grow with a minor’s mass: 1 by mass, 0.67 by surface, 0 not at all (design)',
  ),
  leastCarriedL: amount(
    1,
    0.5,
    5,
    'where water is filled up on the way, no less than this between two places',
  ),
  highM: amount(3000, 0, 6000, 'above this height more is drunk'),
  leastWaterL: amount(2, 0, 10, 'nobody carries less'),
  reserveL: amount(0.5, 0, 10, 'on top of what is drunk'),
  waterStepL: amount(0.5, 0.1, 2, 'water is packed in steps of so much'),
  kcalPerHMinor: amount(250, 50, 1000, 'food an hour of the late day, minors (sources.md §2, §9)'),
  kcalPerHAdult: amount(300, 50, 1000, 'food an hour of the late day, adults (sources.md §2, §9)'),
  leastShareOfWork: amount(0.5, 0, 1, 'at least this share of the day’s work with its margin'),
  workMargin: amount(0.15, 0, 1, 'margin of the day’s work'),
  emergencyKcal: amount(500, 0, 5000, 'food that is left when all goes well'),
  lunchShare: amount(0.35, 0, 0.5, 'of the food on the way'),
  treatShare: amount(0.1, 0, 0.5, 'of the food on the way; snacks are the rest'),
  kcalPerKg: amount(3500, 1000, 9000, 'of mixed dry and fresh food'),
  kitKg: byAge([2, 2.8, 3.5, 5], 0, 40, 'kit in one pack without water and food'),
  sharedKitKg: byAge([0.2, 0.4, 0.6, 1.5], 0, 40, 'what of it is shared by the group'),
  packShare: topic(
    'pack over body mass (sources.md §8): children 10 to 20 %; adults as a march with loads is begun',
    {
      minorTarget: amount(0.1, 0.02, 0.5, 'aim for minors'),
      minorWarn: amount(0.15, 0.02, 0.5, 'a warning for minors'),
      minorConflict: amount(0.2, 0.02, 0.5, 'too much for minors'),
      adultTarget: amount(0.2, 0.02, 0.5, 'aim for adults'),
    },
  ),
});

export const kit = topic('how much of the kit a party takes', {
  peoplePerShelter: amount(8, 1, 100, 'people to one group shelter'),
  peoplePerFirstAidKit: amount(12, 1, 100, 'people to one first-aid kit'),
  peoplePerSpareLamp: amount(6, 1, 100, 'people to one spare lamp'),
  peoplePerToiletKit: amount(6, 1, 100, 'people to one toilet kit'),
  blisterDressingsEach: amount(2, 0, 20, 'blister dressings for each'),
  phoneHours: amount(6, 1, 100, 'hours that a phone records and shows the way on one charge'),
  phoneHoursCold: amount(3, 1, 100, 'the same in the cold'),
  coldC: amount(5, 0, 20, 'at or below so many °C it is cold'),
});
