import type { AgeBand, Design } from '../design.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';

/** Who goes, as counts: no label and no name belongs here. */
export interface PlanParty {
  readonly participants: number;
  /** `null`: not stated. */
  readonly leaders: number | null;
  /** `null`: not stated; the rules for the youngest are used. */
  readonly ageBand: AgeBand | null;
}

export const partyOf = ({ participants, leaders, ageBand }: CohortInput): PlanParty => ({
  participants,
  leaders: leaders ?? null,
  ageBand: ageBand ?? null,
});

/** Whether the rules for minors hold: they do unless the party is known to be of adults. */
export const areMinors = ({ ageBand }: PlanParty): boolean => ageBand !== 'adult';

/**
 * How many leaders this party needs, and whether it may divide at all (common practice, no source; the numbers are
 * settings of the program): with the whole party, and with each part when it divides. `mayDivide`: whether two parts
 * can each have theirs; `null`: leaders not stated. `mostParticipants`: as many as these leaders may take; `null`: none,
 * or leaders not stated.
 */
export function leastLeaders(
  { participants, leaders, ageBand }: PlanParty,
  design: Design,
): {
  readonly eachPart: number;
  readonly whole: number;
  readonly mayDivide: boolean | null;
  readonly mostParticipants: number | null;
} {
  const band = ageBand ?? '8-11';
  const eachPart = design.party.leastLeadersEachPart[band];
  const whole = Math.max(eachPart, Math.ceil(participants / design.party.participantsPerLeader[band]));
  const isParty = leaders !== null && leaders >= eachPart;
  return {
    ...{ eachPart, whole },
    // Those who stay need as many leaders as the whole party does.
    mayDivide: leaders === null ? null : leaders >= eachPart + whole,
    mostParticipants: isParty ? leaders * design.party.participantsPerLeader[band] : null,
  };
}
