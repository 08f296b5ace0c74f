/** Settings of measuring a route: climb, steep ground, treeline, checkpoints, the legs of its card. */
import Type from 'typebox';
import { closed, orNull } from '../schema.ts';
import { amount, topic } from './setting.ts';

const smoothing = (windowM: number, turningPointM: number, description: string) =>
  topic(description, {
    windowM: amount(windowM, 0.1, 1000, 'window of the smoothing'),
    turningPointM: amount(turningPointM, 0.1, 1000, 'least height of a reversal'),
  });

export const gain = closed({
  windowM: amount(60, 0.1, 1000, 'window over which heights along the line are smoothed'),
  turningPointM: amount(
    4,
    0.1,
    1000,
    'a reversal counts from this height after smoothing, which takes a metre or so off it (sources.md §15)',
  ),
  coarsePostingM: amount(60, 1, 1000, 'tiles with heights so far apart count as coarse'),
  bandHigh: smoothing(40, 3, 'the top of the band: the least smooth reading that is still believable'),
  bandLow: smoothing(100, 10, 'the bottom of the band: the smoothest reading that is still believable'),
  lineError: topic('sideways error of a line (fitted by truth:gain)', {
    leastM: amount(4, 0, 100, 'at least a receiver’s under open sky'),
    mostM: amount(15, 0, 100, 'so much is believed at most'),
  }),
  noiseMultiples: topic('a reversal is so many times higher than the noise that the line’s error makes', {
    value: amount(4.5, 0, 10, 'for the value'),
    high: amount(2.5, 0, 10, 'for the top of the band'),
  }),
  restored: topic(
    'how much of what smoothing takes off a turning point is given back (fitted by truth:gain)',
    {
      allBelowM: amount(3, 0, 1000, 'noise below which all is given back'),
      noneAboveM: amount(5, 0, 1000, 'noise above which nothing is given back'),
    },
  ),
  bridgeM: amount(100, 0, 10_000, 'longer voids are not bridged: they leave the route partly covered'),
});

export const steepGround = topic('ground on which snow slides, and how steep a way is for its class', {
  // A program may be more careful with snow slides, not less.
  slideFromDeg: amount(
    30,
    15,
    30,
    'most slides start on 30 to 50° (avalanche.org); steeper ground counts too: on the tiles it has such parts',
  ),
  coarseMarginDeg: amount(5, 5, 15, 'coarse tiles flatten slopes: on them ground counts from so much less'),
  joinM: amount(100, 0, 1000, 'stretches nearer to each other than this are one'),
  classAskedFromDeg: amount(20, 5, 60, 'a way steeper than this over 50 m may be class 2: asked about'),
  class3FromDeg: amount(35, 5, 80, 'one steeper than this may be class 3: stated as less, it is not known'),
  handsFromDeg: amount(30, 5, 80, 'on class 3 and harder a way so steep is taken to need hands'),
  class4FromDeg: amount(50, 5, 85, 'one steeper than this may be class 4'),
});

export const treeline = closed({
  belowLatitudeRuleM: amount(
    1200,
    0,
    6000,
    'treeline may lie this far below the latitude rule (Katahdin lies 1,172 m below it: sources.md §6)',
  ),
  programM: orNull(Type.Number({ minimum: -430, maximum: 6000 }), {
    default: null,
    description: 'a program’s own treeline where a route states none; null: none',
  }),
});

export const openGround = topic('tops below treeline that may be bare', {
  askedFromRiseM: amount(300, 0, 3000, 'a top so high above the start is asked about'),
});

export const checkpoints = topic('where on a route a leader looks at the watch', {
  snapM: amount(75, 10, 500, 'a place of the file belongs to the line within this distance'),
  ownNameM: amount(100, 10, 500, 'a start, top or end takes the name of a place so near'),
  apartM: amount(150, 50, 10_000, 'nearer to each other along the line than this, two places are one'),
  chosenApartM: amount(600, 50, 10_000, 'places that are chosen keep this distance'),
  most: amount(4, 0, 12, 'so many are chosen on the way up at most, half as many on another way down'),
  stepM: amount(20, 5, 200, 'the line is looked at in such steps'),
  reachM: amount(100, 20, 500, 'and over this reach to both sides'),
  bendDeg: amount(60, 20, 180, 'a bend turns by so much'),
  seriesM: amount(250, 50, 10_000, 'and stands alone over this length'),
  steepRatio: amount(0.12, 0.02, 1, 'a shoulder is where ground so steep eases to a third'),
  longWayM: amount(2500, 50, 10_000, 'a way with nothing on it is parted where it is longer than this'),
  longClimbM: amount(300, 50, 10_000, 'or climbs further than this'),
  mostNamed: amount(24, 0, 100, 'so many places of the file are taken at most'),
});

export const routeCard = topic('the navigator’s leg table', {
  steepRatio: amount(0.3, 0.05, 2, 'a grade over 200 m from which a leg is called steep, rise over run'),
  windingRatio: amount(1.3, 1, 10, 'a line so many times the straight way winds: follow path, not bearing'),
  leastStraightM: amount(20, 1, 500, 'nearer, a bearing is within the error of the receiver and the line'),
});
