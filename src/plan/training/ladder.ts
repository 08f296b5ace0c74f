import type { BaseAmount, BaseOn } from './base.ts';
import { narrowed } from './narrowed.ts';
import type { TrainingRules } from './rules.ts';
import { type Amounts, QUANTITIES, type Quantity } from './target.ts';

export type StepKind = 'assessment' | 'step' | 'distanceDay' | 'gainDay' | 'bothDay' | 'classDay';

/** One day of a ladder, counted in days from today. */
export interface Rung extends Amounts {
  readonly day: number;
  readonly kind: StepKind;
  /** The most that would still be a sane step on that day. */
  readonly most: Amounts;
  /** The largest of the three over what is shown on that day; `null` where the size is an assumption. */
  readonly growth: number | null;
}

export interface LadderQuestion {
  readonly baseOn: BaseOn;
  /** The most work that everyone who goes has ever done in a day; `null`: somebody has done none. */
  readonly everKj: number | null;
  /** As walked, for the milestones. */
  readonly target: Amounts;
  /** The last day, which is still worth the target on the trip's date. */
  readonly final: Amounts;
  /** What the last day has to bring; the rest is shown already. */
  readonly needed: Readonly<Record<Quantity, boolean>>;
  readonly rules: TrainingRules;
}

type Size = Omit<Amounts, 'effortKj'>;

/** The kinds of the last days of a ladder, in order. */
export type Shape = readonly Exclude<StepKind, 'assessment' | 'step'>[];

/** Just under the route's own distance: that far is the distance day. */
const UNDER = 0.999;

const floorTenth = (value: number): number => Math.floor(value * 10) / 10;

/** What is wished for on a day of a kind, before it is held to what is sane. */
function wishOf(kind: StepKind, shape: Shape, { target, final, rules }: LadderQuestion): Size {
  const { distanceM, gainM } = final;
  const easedGainM = Math.min(gainM, rules.easedShare * target.gainM);
  if (kind === 'distanceDay') return { distanceM, gainM: easedGainM };
  if (kind === 'gainDay') return { distanceM: rules.easedShare * target.distanceM, gainM };
  if (kind === 'bothDay' || kind === 'classDay') return { distanceM, gainM };
  return {
    distanceM: shape.includes('distanceDay') ? UNDER * target.distanceM : distanceM,
    gainM: shape.includes('gainDay') ? easedGainM : gainM,
  };
}

/** The largest share of the wished day, each part within its own cap, whose work is within the cap of work. */
function withinWork(wish: Size, cap: Amounts, effortOf: TrainingRules['effortOf']): Size {
  const at = (share: number) => ({
    distanceM: Math.min(cap.distanceM, share * wish.distanceM),
    gainM: Math.min(cap.gainM, share * wish.gainM),
  });
  const fits = ({ distanceM, gainM }: Size) => effortOf(distanceM, gainM) <= cap.effortKj;
  return fits(at(1)) ? at(1) : at(narrowed(1, 0, 14, (share) => fits(at(share))));
}

/** What is shown on a day: the record and the steps before, less detraining. */
function shownOn(
  day: number,
  before: readonly Rung[],
  { baseOn, rules }: LadderQuestion,
): Record<Quantity, BaseAmount> {
  const base = baseOn(day);
  const shownOf = (quantity: Quantity): BaseAmount => {
    let value = base[quantity]?.value ?? 0;
    for (const rung of before) value = Math.max(value, rung[quantity] * rules.keeps(day - rung.day));
    return { value, isRecent: before.length > 0 || (base[quantity]?.isRecent ?? false) };
  };
  return { distanceM: shownOf('distanceM'), gainM: shownOf('gainM'), effortKj: shownOf('effortKj') };
}

/**
 * The most for a day. A first walk may have the size of one that finds out where people stand, however little distance
 * or climb is shown, but it is no more work than they are known to have done.
 */
function capsOf(
  shown: Record<Quantity, BaseAmount>,
  isFirst: boolean,
  growth: number,
  { everKj, rules: { assessment, effortOf } }: LadderQuestion,
): Amounts {
  const distanceM = growth * shown.distanceM.value;
  const gainM = growth * shown.gainM.value;
  const workKj = growth * shown.effortKj.value;
  if (!isFirst) return { distanceM, gainM, effortKj: workKj };
  const shortKj = effortOf(assessment.distanceM, assessment.gainM);
  return {
    distanceM: Math.max(distanceM, assessment.distanceM),
    gainM: Math.max(gainM, assessment.gainM),
    effortKj: shown.effortKj.isRecent ? workKj : Math.max(workKj, Math.min(shortKj, everKj ?? shortKj)),
  };
}

/**
 * The ladder on the given days, each step as large as `growth` allows over what is shown on its day, up to what is
 * wished; `null` where it does not reach the last day's need. Where too little is shown to build on, the first day is
 * a short walk to find out, and the rest stands on that assumption.
 *
 * @param days in order, counted from today
 * @param growth the largest multiple of what is shown, from 1
 */
export function ladder(
  days: readonly number[],
  shape: Shape,
  growth: number,
  question: LadderQuestion,
): readonly Rung[] | null {
  const { rules, target, final, needed } = question;
  const { effortOf, mostGrowth } = rules;
  const rungs: Rung[] = [];
  for (const [i, day] of days.entries()) {
    const isLast = i === days.length - 1;
    const shown = shownOn(day, rungs, question);
    const wanted: StepKind = shape[shape.length - (days.length - i)] ?? 'step';
    const caps = capsOf(shown, i === 0, growth, question);
    const walked = withinWork(wishOf(wanted, shape, question), caps, effortOf);
    // Whole metres on the last day are rounded up already; elsewhere down, so that no step passes its cap.
    const exact = (value: number, whole: number): number => (value >= whole ? value : floorTenth(value));
    const distanceM = exact(walked.distanceM, final.distanceM);
    const gainM = exact(walked.gainM, final.gainM);
    const amounts: Amounts = { distanceM, gainM, effortKj: effortOf(distanceM, gainM) };
    if (wanted === 'distanceDay' && distanceM < target.distanceM) return null;
    if (wanted === 'gainDay' && gainM < target.gainM) return null;
    if (isLast && QUANTITIES.some((quantity) => needed[quantity] && amounts[quantity] < final[quantity])) {
      return null;
    }
    const beyond = Math.max(
      ...QUANTITIES.map((quantity) =>
        amounts[quantity] > 0 ? amounts[quantity] / shown[quantity].value : 0,
      ),
    );
    const isKnown = QUANTITIES.every((quantity) => shown[quantity].isRecent);
    // A hair for floating point: beyond it the size comes from the assessment, not from what is shown.
    const isBuilt = isKnown && beyond <= growth * (1 + 1e-9);
    rungs.push({
      ...amounts,
      day,
      // A day that is all there is time for may be the first as well as the last.
      kind: isBuilt || isLast ? wanted : 'assessment',
      most: capsOf(shown, i === 0, mostGrowth, question),
      growth: isBuilt ? beyond : null,
    });
  }
  return rungs;
}
