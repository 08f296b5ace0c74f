import type { AgeBand, Design } from '../design.ts';
import { legWorkKj } from './energy.ts';
import type { Quantities } from './quantities.ts';
import type { Leg } from './rules/leg.ts';
import { slowerDownMin, tradeRuleMin } from './rules/trade-rule.ts';

/** A leg of less than this is no walk, and dividing by its time would say anything. */
const LEAST_MIN = 0.01;

const workKj = (leg: Leg, minutes: number, massKg: number): number =>
  minutes < LEAST_MIN ? 0 : legWorkKj(leg, minutes, massKg);

/**
 * Metabolic work of a day, kJ for one person of the age band with a day pack: LCDA over one climb and one descent,
 * walked at the pace of the trade rule so that demand and what was shown use one ruler. Altitude aside. The model
 * is not validated on minors (Looney 2019: adults), so only the ratio of two days is used.
 */
export function effortKj(
  quantities: Quantities,
  ageBand: AgeBand,
  design: Pick<Design, 'massKg' | 'tradeRule'>,
): number {
  const mass = design.massKg[ageBand];
  const { upKm, upM, downKm, downM } = quantities;
  const up = { horizontalM: upKm * 1000, climbM: upM, dropM: 0 };
  const down = { horizontalM: downKm * 1000, climbM: 0, dropM: downM };
  return (
    workKj(up, tradeRuleMin(up.horizontalM, up.climbM, design.tradeRule), mass) +
    workKj(down, slowerDownMin(down.horizontalM, down.dropM, design.tradeRule), mass)
  );
}
