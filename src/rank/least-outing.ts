import { at, numberAt } from '../array.ts';
import { labelsOf, shownGain } from '../capability/demonstrated.ts';
import { remaining } from '../capability/detraining.ts';
import { effortKj } from '../capability/effort.ts';
import { type HandOuting, handOuting, handQuantities } from '../capability/hand-outing.ts';
import { gainDoubt } from './criteria/gain.ts';
import { CRITERIA, type CriterionName } from './criteria/index.ts';
import type { Subject } from './criterion.ts';
import { gapsOf, type Judgement } from './judgement.ts';
import { newOutcome } from './outcome.ts';
import { AS_RANKED } from './shift.ts';
import { stretchLimit, trainedRank } from './trained.ts';
import { FITS, VERDICTS, type Verdict } from './verdict.ts';

/** A day's walk, metres. */
export interface DayWalk {
  readonly distanceM: number;
  readonly gainM: number;
}

/** The least outing on the trip's date, with everyone who goes, that makes what training changes fit. */
export interface LeastOuting extends DayWalk {
  readonly rockClass: string | null;
  /** How many days lead to it at least, begun soon after what was walked, each a sane step beyond the one before. */
  readonly count: number;
  /** Days that lead to it from what is left on the trip's date, the last the outing itself; empty where too many. */
  readonly steps: readonly DayWalk[];
  /** A nearer aim where the count is too many: the day that the most of a season lead to; `null`: it is not. */
  readonly nearer: DayWalk | null;
  /** What would still not fit, found by judging the route again with the outing in the record. */
  readonly leaves: readonly { readonly name: CriterionName; readonly verdict: Verdict }[];
}

const TRAINED: readonly CriterionName[] = ['distance', 'gain', 'effort', 'rockClass'];

/** Whether outings alone change a criterion. */
export const isTrained = (name: CriterionName): boolean => TRAINED.includes(name);

/** Halvings of the search: far finer than any line is measured. */
const HALVINGS = 30;

/** The smallest factor from 1 for which `holds`, which holds for every larger one; `null`: none up to 64. */
function leastFactor(holds: (factor: number) => boolean): number | null {
  if (holds(1)) return 1;
  let low = 1;
  let high = 2;
  while (!holds(high)) {
    if (high >= 64) return null;
    low = high;
    high *= 2;
  }
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/**
 * Steps from what was shown to a day, each at most `growth` beyond what is left of the one before in distance and in
 * climb.
 *
 * @param kept share of a step that is left by the next
 */
export function saneSteps(shown: DayWalk, target: DayWalk, growth: number, kept: number): readonly DayWalk[] {
  const ratios = [target.distanceM / shown.distanceM, target.gainM / shown.gainM];
  const most = Math.max(1, ...ratios.filter(Number.isFinite));
  // Where hardly anything is gained from step to step, the way is long, but it has an end.
  const net = Math.max(1.01, (1 + growth) * kept);
  const isOne = most <= (1 + growth) * (1 + 1e-9);
  const count = isOne ? 1 : Math.ceil(Math.log(most) / Math.log(net) - 1e-9);
  const reached = (from: number, to: number, share: number): number =>
    from > 0 && to > from ? from * (to / from) ** share : to;
  return Array.from({ length: count }, (_, i) => ({
    distanceM: reached(shown.distanceM, target.distanceM, (i + 1) / count),
    gainM: reached(shown.gainM, target.gainM, (i + 1) / count),
  }));
}

/**
 * Whether distance, climb and work of a route fit once everyone who goes has walked a day more, on the trip's own date:
 * it counts in full, and for each of them as soon as it is more than what they have shown.
 */
export function fitsWith({ facts, i }: Pick<Subject, 'facts' | 'i'>): (day: DayWalk) => boolean {
  const { table, readiness, request } = facts;
  const { shown, ageBand } = readiness;
  const { hasGap, distanceM, gainHighM } = table.columns;
  const lengthM = numberAt(hasGap, i) === 1 ? Number.NaN : numberAt(distanceM, i);
  const climbM = numberAt(gainHighM, i);
  const workKj = facts.workKj(i, 1);
  const climbedM = shownGain(shown.climbs, gainDoubt(table, i))?.value ?? 0;
  const limit = stretchLimit(ageBand, request.design);
  const isMet = (demand: number, before: number, day: number): boolean =>
    trainedRank(demand / Math.max(before, day), limit) === FITS;
  return (day) =>
    isMet(lengthM, shown.distanceM?.value ?? 0, day.distanceM) &&
    isMet(climbM, climbedM, day.gainM) &&
    isMet(
      workKj,
      shown.effortKj?.value ?? 0,
      effortKj(handQuantities(day.distanceM, day.gainM), ageBand, request.design),
    );
}

/** What does not fit once a day more is on record; its time is not known, so that nothing else changes. */
function leftAfter({ facts, i }: Subject, judgements: readonly Judgement[], day: HandOuting) {
  const readiness = { ...facts.readiness, shown: facts.readiness.shownWith(day) };
  const out = newOutcome();
  const verdicts = judgements.map(({ name, verdict }) => {
    if (!isTrained(name)) return { name, verdict };
    const criterion = CRITERIA.find((one) => one.name === name);
    criterion?.over({ ...facts, readiness })(i, AS_RANKED, out);
    return { name, verdict: at(VERDICTS, out.rank) };
  });
  return verdicts.filter(({ verdict }) => verdict !== 'fits');
}

/**
 * The least outing for a route that is not yet, or a stretch, by what training changes: the criteria inverted, found
 * again by judging the route with the outing added on the trip's date. It has no time, so the pace stays as it is.
 * `null`: nothing that one day changes is in the way.
 */
export function leastOuting(
  subject: Subject,
  verdict: Verdict,
  judgements: readonly Judgement[],
): LeastOuting | null {
  if (verdict !== 'notYet' && verdict !== 'stretch') return null;
  const { readiness, request } = subject.facts;
  const open = new Set(gapsOf(judgements).map(({ criterion }) => criterion));
  const { shown } = readiness;
  if (!TRAINED.some((name) => open.has(name)) || shown.distanceM === null || shown.gainM === null)
    return null;

  const { measures, attributes } = subject.route;
  const { record, date, design } = request;
  const { members = null, going = null } = record.cohort;
  const rockClass = open.has('rockClass') ? (attributes.rockClass ?? null) : null;
  const before = { distanceM: shown.distanceM.value, gainM: shown.gainM.value };
  const gainHighM = measures.gainM?.high ?? 0;
  // What was shown already need not be more; a day on harder ground alone need be no longer than the route.
  const base = {
    distanceM: open.has('distance') ? measures.distanceM : Math.min(before.distanceM, measures.distanceM),
    gainM: open.has('gain') ? gainHighM : Math.min(before.gainM, gainHighM),
  };
  const dayOf = (factor: number): DayWalk => ({
    distanceM: base.distanceM * factor,
    gainM: base.gainM * factor,
  });
  const isEnough = fitsWith(subject);
  const factor = leastFactor((tried) => isEnough(dayOf(tried)));
  if (factor === null) return null;
  const target = dayOf(factor);
  const day = handOuting({ date, ...target, rockClass, members: labelsOf({ members, going }) });
  const step = readiness.ageBand === 'adult' ? design.training.stepAdult : design.training.stepMinor;
  const growth = Math.min(step, stretchLimit(readiness.ageBand, design) - 1);
  const kept = remaining(Math.ceil(design.training.daysBetween), readiness.ageBand, design.detraining);
  const steps = saneSteps(before, target, Math.max(0.01, growth), kept);
  const mostSteps = Math.floor(design.training.mostSteps);
  const soon = {
    distanceM: Math.max(before.distanceM, kept * shown.distanceM.asWalked),
    gainM: Math.max(before.gainM, kept * shown.gainM.asWalked),
  };
  const soonest = saneSteps(soon, target, Math.max(0.01, growth), kept);
  return {
    ...target,
    rockClass,
    count: soonest.length,
    steps: steps.length > mostSteps ? [] : steps,
    nearer: soonest.length > mostSteps ? at(soonest, mostSteps - 1) : null,
    leaves: leftAfter(subject, judgements, day),
  };
}
