import type { Design } from '../design.ts';
import { plural } from '../text/words.ts';
import type { PlanParty } from './plan-facts.ts';

export interface LeastLeaders {
  /** With each part, when the party divides. */
  readonly eachPart: number;
  /** With the whole party. */
  readonly whole: number;
  /** Whether two parts can each have their leaders; `null`: leaders not stated. */
  readonly mayDivide: boolean | null;
  /** The rule for this party, for people. */
  readonly text: string;
}

/**
 * How many leaders this party needs, and whether it may divide at all (common practice, no source; the numbers are
 * settings of the program). An age band that is not stated counts as the youngest.
 */
export function leastLeaders({ participants, leaders, ageBand }: PlanParty, design: Design): LeastLeaders {
  const band = ageBand ?? '8-11';
  const eachPart = design.party.leastLeadersEachPart[band];
  const whole = Math.max(eachPart, Math.ceil(participants / design.party.participantsPerLeader[band]));
  // Those who stay need as many leaders as the whole party does.
  const mayDivide = leaders === null ? null : leaders >= eachPart + whole;
  const rule = `The party divides only if each part keeps the program’s minimum of leaders: ${eachPart} here.`;
  const here =
    leaders === null
      ? `How many leaders go is not stated: with fewer than ${eachPart + whole} it stays together.`
      : mayDivide === true
        ? `With ${plural(leaders, 'leader')} that allows ${plural(Math.floor(leaders / eachPart), 'part')} at most.`
        : `With ${plural(leaders, 'leader')} it stays together, up and down.`;
  return { eachPart, whole, mayDivide, text: `${rule} ${here}` };
}
