import type { AltitudeHistory } from '../capability/altitude.ts';
import type { LightningBackground } from '../day/lightning-background.ts';
import type { Moment } from '../day/walk-day.ts';
import type { AgeBand } from '../design.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Verdict } from '../rank/verdict.ts';
import type { CheckpointKind } from '../route/checkpoints.ts';
import type { SteepGround } from '../route/steep-ground.ts';

/** The way and time from a checkpoint out to a road. */
export interface WayOut {
  readonly text: string;
  readonly minutes: { readonly p50: number; readonly p90: number };
  readonly distanceM: number;
}

export interface PlanCheckpoint {
  readonly name: string;
  readonly kind: CheckpointKind;
  /** Along the route from the start. */
  readonly distanceM: number;
  readonly elevationM: number | null;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Grid reference as text; `null`: none there. */
  readonly grid: string | null;
  /** The two times below as every page prints them: `10:35`, `17:36 (light)`, `cannot be met`, `–`. */
  readonly cutOffText: string;
  readonly retreatText: string;
  /** "Turn back if not here by"; `null`: none at this checkpoint. */
  readonly cutOffMs: number | null;
  /** The latest moment to start down from here; `null`: none at this checkpoint. */
  readonly retreatMs: number | null;
  readonly at: Moment;
  readonly wayOut: WayOut | null;
}

export interface LowerChoice {
  readonly name: string;
  readonly distanceM: number;
  readonly gainM: number | null;
  readonly verdict: Verdict | null;
}

/** Who goes, as counts: no label and no name belongs here. */
export interface PlanParty {
  readonly participants: number;
  /** `null`: not stated. */
  readonly leaders: number | null;
  /** `null`: not stated; the rules for the youngest are used. */
  readonly ageBand: AgeBand | null;
}

/**
 * What the cards and pages of one day are made from. Times in ms since 1970, shown in `zone`; `null` is "not known" and
 * becomes a blank line or the cautious reading, never a made-up figure. Texts are printed as they are: whoever fills
 * this in keeps names of people out of them.
 */
export interface PlanFacts {
  readonly routeName: string;
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly zone: string;
  readonly trailheadName: string | null;
  readonly distanceM: number;
  readonly gainM: number | null;
  readonly highM: number | null;
  readonly rockClass: string | null;
  /** The class that steep ground under the line may be, where it is higher than the one stated; `null`: none. */
  readonly classInDoubt: 2 | 3 | 4 | null;
  readonly verdict: Verdict | null;
  readonly meetMs: number | null;
  readonly startMs: number;
  readonly back: Moment;
  /** At the meeting place again; `null`: the drive is not known. */
  readonly home: Moment | null;
  /** The deadline of the day, whether or not there is ground above treeline. */
  readonly usualDeadlineMs: number;
  /** When everyone must be below treeline. */
  readonly deadlineMs: number | null;
  /** In order along the route. */
  readonly checkpoints: readonly PlanCheckpoint[];
  readonly party: PlanParty;
  readonly sleepElevationM: number | null;
  /** The worst that anyone going has had; used for the leaders' card alone. */
  readonly altitudeHistory: AltitudeHistory | null;
  /** 0: all of it lies below treeline; `null`: treeline not known. */
  readonly aboveTreelineMin: number | null;
  /** Whether ground of 30 to 50 degrees may carry snow on this date; `null`: not known. */
  readonly steepSnow: boolean | null;
  /** What the tiles say of the steepness of the ground; `null`: nothing. */
  readonly steepGround: SteepGround | null;
  /** What is stated about the road; `null`: nothing. */
  readonly roadStatus: string | null;
  /** What is stated about phone coverage; `null`: nothing. */
  readonly coverage: string | null;
  readonly lightning: LightningBackground | null;
  readonly lowerChoice: LowerChoice | null;
  /** YYYY-MM-DD. */
  readonly spareDate: string | null;
  readonly waterLitresEach: number | null;
  readonly foodKcalEach: number | null;
  readonly kit: readonly string[];
  readonly trainingSteps: readonly string[];
}

/** Who goes, from a cohort. */
export const partyOf = ({ participants, leaders, ageBand }: CohortInput): PlanParty => ({
  participants,
  leaders: leaders ?? null,
  ageBand: ageBand ?? null,
});

/** Whether the rules for minors hold: they do unless the party is known to be of adults. */
export const areMinors = ({ ageBand }: PlanParty): boolean => ageBand !== 'adult';
