import { DESIGN, type Design } from '../../design.ts';
import { MIN_PER_H } from '../../units.ts';
import { type HikingRule, type Leg, summed } from './leg.ts';

/**
 * Walking time of one whole leg by DIN 33466, minutes, no breaks: the longer of the time for the length and the
 * time for the height, and half the shorter. A leg may hold climb and drop at once; the standard is made for
 * whole legs, and cut into pieces the same way takes up to a third longer.
 * DIN 33466 (signposting of hiking paths): 4 km/h; 300 m/h up; 500 m/h down.
 * @example din33466Min({ horizontalM: 8000, climbM: 900, dropM: 0 }) // 240: 4 h
 */
export function din33466Min(leg: Leg): number {
  const lengthH = leg.horizontalM / 4000;
  const heightH = leg.climbM / 300 + leg.dropM / 500;
  return MIN_PER_H * (Math.max(lengthH, heightH) + Math.min(lengthH, heightH) / 2);
}

export const din33466: HikingRule = (legs) => legs.reduce((sumMin, leg) => sumMin + din33466Min(leg), 0);

type TradeRates = Design['tradeRule'];

/**
 * Walking time by the rule of the trade, minutes: 30 min a mile and 1 h per 1,000 ft climbed, stops extra
 * (common practice, no source). Descent adds nothing: for the way down see `slowerDownMin`.
 * @example tradeRuleMin(7 * M_PER_MILE, 3000 * M_PER_FT) // 390: 6.5 h
 */
export function tradeRuleMin(
  horizontalM: number,
  climbM: number,
  rates: TradeRates = DESIGN.tradeRule,
): number {
  return (horizontalM / 1000) * rates.minPerKm + climbM * rates.minPerClimbM;
}

/**
 * Time of one whole leg down, minutes: the slower of the trade rule and DIN 33466 (design). The trade rule alone
 * takes a steep descent for level ground.
 * @example slowerDownMin(4000, 1000) // 150, and 75 by the trade rule
 */
export function slowerDownMin(
  horizontalM: number,
  dropM: number,
  rates: TradeRates = DESIGN.tradeRule,
): number {
  return Math.max(tradeRuleMin(horizontalM, 0, rates), din33466Min({ horizontalM, climbM: 0, dropM }));
}

export const tradeRule: HikingRule = summed((leg) => tradeRuleMin(leg.horizontalM, leg.climbM));

/** What a group that has shown nothing yet is planned on: the trade rule up and level, the slower of the two down. */
export const cautiousTradeRule: HikingRule = summed(({ horizontalM, climbM, dropM }) =>
  dropM > 0 ? slowerDownMin(horizontalM, dropM) : tradeRuleMin(horizontalM, climbM),
);
