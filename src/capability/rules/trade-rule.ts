import { DESIGN, type Design } from '../../design.ts';
import { din33466Min } from './din33466.ts';
import { type HikingRule, summed } from './leg.ts';

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

/** The trade rule as it is said, over the whole way. */
export const tradeRule: HikingRule = summed((leg) => tradeRuleMin(leg.horizontalM, leg.climbM));

/** What a group that has shown nothing yet is planned on: the trade rule up and level, the slower of the two down. */
export const cautiousTradeRule: HikingRule = summed(({ horizontalM, climbM, dropM }) =>
  dropM > 0 ? slowerDownMin(horizontalM, dropM) : tradeRuleMin(horizontalM, climbM),
);
