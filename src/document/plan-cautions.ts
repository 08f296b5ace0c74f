import type { Design } from '../design.ts';
import { areMinors, leastLeaders, type PlanParty } from '../rank/party.ts';
import { heightText, plural } from '../text/words.ts';
import { M_PER_FT, type UnitSystem } from '../units.ts';
import { altitudeCautions } from './altitude-cautions.ts';
import { citing, type PageLine, TRADE } from './people-page.ts';

const NWS = 'NWS (Colorado lightning page)';
/** About 20 ft between people in a storm (NWS). */
const SPREAD_M = 20 * M_PER_FT;

/** What to do about lightning on open ground. */
export const lightningCautions = (units: UnitSystem): PageLine[] => [
  ...citing(
    NWS,
    'Lightning: on the first thunder go down below treeline at once. No place outdoors is safe; a car or a house is.',
    `Spread out, about ${heightText(SPREAD_M, units)} apart, and keep moving down.`,
  ),
  ...citing(
    'NWS, from memory; NPS says 30 minutes after the storm has passed',
    'After thunder the day is over: wait 30 minutes after the last thunder before leaving shelter, and go down.',
  ),
];

/** Heat, cold and water. */
const WEATHER_AND_WATER_CAUTIONS: readonly PageLine[] = [
  ...citing(
    TRADE,
    'Heat: slow down, shade, wet the hat and shirt. Hot and confused: cool at once with water and wind, and call for help.',
    'Cold: put layers on before you shiver. Shivering, stumbling, mumbling: stop, dry clothes, shelter, food. Shivering that stops without getting warm: call for help.',
  ),
  ...citing(
    // Never more than is sweated out: ACSM 2007. The cap of 1 L/h is design (sources.md §9).
    'ACSM 2007; 1 litre an hour: design',
    'Water: drink when thirsty, a little at a time, and eat something salty with it. Not too much either: never over 1 litre an hour, and children less. A headache and a sick stomach after much water: stop drinking and tell a leader.',
  ),
];

/** Minors on the day. Empty for a party of adults. */
export const minorsCautions = (party: PlanParty): PageLine[] =>
  areMinors(party)
    ? citing(
        TRADE,
        'Minors are never sent anywhere alone, up or down. Two leaders can always see the first and the last of the group.',
        'A child who does not want to go on is not talked into it.',
      )
    : [];

/** How many leaders this party needs, and whether it may divide, in words. */
export function leastLeadersText(party: PlanParty, design: Design): string {
  const { leaders } = party;
  const { eachPart, whole, mayDivide } = leastLeaders(party, design);
  const rule = `The party divides only if each part keeps the program’s minimum of leaders: ${eachPart} here.`;
  const here =
    leaders === null
      ? `How many leaders go is not stated: with fewer than ${eachPart + whole} it stays together.`
      : mayDivide === true
        ? `With ${plural(leaders, 'leader')} that allows ${plural(Math.floor(leaders / eachPart), 'part')} at most.`
        : `With ${plural(leaders, 'leader')} it stays together, up and down.`;
  return `${rule} ${here}`;
}

/** Who decides, and what stands above this sheet. */
export const decisionCautions = (party: PlanParty, design: Design): PageLine[] =>
  citing(
    TRADE,
    'The lead leader on the spot decides. Turning round is always right and is never voted down.',
    leastLeadersText(party, design),
    'Local rules, land managers, the program’s own rules and licensed practice come first. This sheet gives no medical advice and is not for navigation.',
  );

/** Every caution of a day, for those who lead it. */
export const allCautions = (party: PlanParty, units: UnitSystem, design: Design): PageLine[] => [
  ...altitudeCautions(party),
  ...lightningCautions(units),
  ...WEATHER_AND_WATER_CAUTIONS,
  ...minorsCautions(party),
  ...decisionCautions(party, design),
];
