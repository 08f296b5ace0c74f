import type { Shown } from '../capability/demonstrated.ts';
import type { AgeBand, Design } from '../design.ts';
import type { AnyReason, Need, Subject } from './criterion.ts';
import type { Missing } from './missing.ts';
import { answer, compare, type Outcome } from './outcome.ts';
import { LEAST_VALUE, ratioCurve } from './value.ts';
import { FITS, INCOMPLETE, NOT_YET, STRETCH } from './verdict.ts';

/** What distance, gain and effort share: a demand against the most that everyone who goes has shown. */

const isMinor = (ageBand: AgeBand): boolean => ageBand !== 'adult';

/** How far beyond what was shown a step may go and still be a stretch, as a ratio. */
export const stretchLimit = (ageBand: AgeBand, { limits }: Design): number =>
  isMinor(ageBand) ? limits.stretchMinor : limits.stretchAdult;

/** The rank of what is demanded over what was shown. */
export const trainedRank = (ratio: number, limit: number): number =>
  ratio <= 1 ? FITS : ratio <= limit ? STRETCH : NOT_YET;

/** Answers a demand against what was shown; `NaN`: not known. */
export function trainedBy(ageBand: AgeBand, design: Design, isOneOldDay: boolean) {
  const limit = stretchLimit(ageBand, design);
  const curve = ratioCurve(limit);
  return (demand: number, shown: number, out: Outcome): void => {
    const ratio = demand / shown;
    const rank = Math.max(trainedRank(ratio, limit), isOneOldDay ? STRETCH : FITS);
    if (!Number.isNaN(ratio)) answer(out, 'shown', rank, curve(ratio));
    else answer(out, Number.isNaN(demand) ? 'unknown' : 'unshown', INCOMPLETE, LEAST_VALUE);
    compare(out, demand, shown);
  };
}

/** After so many days an outing no longer counts. */
const recentDays = (ageBand: AgeBand, { detraining }: Design): number =>
  2 * (isMinor(ageBand) ? detraining.windowDaysMinor : detraining.windowDaysAdult);

export type TrainedReason<Demand> =
  | { readonly code: 'unknown'; readonly missing: Missing; readonly demand: Demand | null }
  /** Somebody who goes has shown nothing in so many days before the trip; `someHave`: others have. */
  | {
      readonly code: 'unshown';
      readonly demand: Demand;
      readonly someHave: boolean;
      readonly recentDays: number;
    }
  | (AnyReason & {
      readonly code: 'shown';
      readonly demand: Demand;
      readonly shown: Shown;
      /** Demand over what was shown, and up to where it is a stretch. */
      readonly ratio: number;
      readonly limit: number;
      /** What counts is one day of long ago. */
      readonly isOneOldDay: boolean;
    });

/** The reason of a demand, given the outing that was compared (`null`: none) and what an outing would need. */
export function trainedReason<Demand>(
  { facts: { readiness, request } }: Subject,
  outcome: Outcome,
  asked: {
    readonly missing: Missing;
    /** `null`: not known. */
    readonly demand: Demand | null;
    readonly shown: Shown | null;
    readonly need: () => Need;
  },
): TrainedReason<Demand> {
  const { missing, demand, shown } = asked;
  const { ageBand } = readiness;
  if (outcome.code === 'unknown' || demand === null) return { code: 'unknown', missing, demand };
  if (shown === null) {
    const { climbs, membersWithout } = readiness.shown;
    const someHave = membersWithout.length > 0 && climbs.some((own) => own.length > 0);
    return { code: 'unshown', demand, someHave, recentDays: recentDays(ageBand, request.design) };
  }
  return {
    code: 'shown',
    demand,
    shown,
    ratio: outcome.demand / outcome.capacity,
    limit: stretchLimit(ageBand, request.design),
    isOneOldDay: readiness.shown.restsOnOneOldDay,
    ...(outcome.rank === FITS ? {} : { need: asked.need() }),
  };
}
