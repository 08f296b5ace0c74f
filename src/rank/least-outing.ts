import { type Demonstrated, labelsOf, shownGain } from '../capability/demonstrated.ts';
import { effortKj } from '../capability/effort.ts';
import { type HandOuting, handOuting, handQuantities } from '../capability/hand-outing.ts';
import { questionText, VERDICT_TEXT } from '../text/verdict-words.ts';
import { atLeastClimbText, atLeastLengthText, plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { distanceDemandM } from './criteria/distance.ts';
import { gainDemandOf } from './criteria/gain.ts';
import type { CriterionName, FitInput, Gap, Judgement } from './criterion.ts';
import type { FitRequest, Readiness } from './readiness.ts';
import { stretchLimit } from './trainable.ts';
import type { Verdict } from './verdict.ts';

/** A day's walk, metres. */
export interface DayWalk {
  readonly distanceM: number;
  readonly gainM: number;
}

/** The least outing on the trip's date, with everyone who goes, that makes what training changes fit. */
export interface LeastOuting extends DayWalk {
  readonly rockClass: string | null;
  /** Days that lead to it, each a sane step beyond the one before; the last is the outing itself. */
  readonly steps: readonly DayWalk[];
  /** What would still not fit, found by judging the route again with the outing in the record. */
  readonly leaves: readonly CriterionName[];
  readonly text: string;
}

const TRAINED: readonly CriterionName[] = ['distance', 'gain', 'effort', 'rockClass'];

/** Whether outings alone change a criterion. */
export const isTrained = (name: CriterionName): boolean => TRAINED.includes(name);

/** More steps than these are told by the first and the last (design). */
const MOST_STEPS_TOLD = 3;

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

/** Steps from what was shown to a day, each at most `growth` beyond the one before in distance and in climb. */
export function saneSteps(shown: DayWalk, target: DayWalk, growth: number): readonly DayWalk[] {
  const ratios = [target.distanceM / shown.distanceM, target.gainM / shown.gainM];
  const most = Math.max(1, ...ratios.filter(Number.isFinite));
  const count = Math.max(1, Math.ceil(Math.log(most) / Math.log1p(growth) - 1e-9));
  const at = (from: number, to: number, share: number): number =>
    from > 0 && to > from ? from * (to / from) ** share : to;
  return Array.from({ length: count }, (_, i) => ({
    distanceM: at(shown.distanceM, target.distanceM, (i + 1) / count),
    gainM: at(shown.gainM, target.gainM, (i + 1) / count),
  }));
}

interface Question {
  readonly fit: { readonly verdict: Verdict; readonly gap: readonly Gap[] };
  readonly input: FitInput;
  readonly request: FitRequest;
  readonly readiness: Readiness;
  /** The route judged with one more outing in the record, which says nothing of the pace. */
  readonly judgedWith: (outing: HandOuting) => readonly Judgement[];
  readonly units: UnitSystem;
}

function textOf(
  { distanceM, gainM, rockClass, steps, leaves }: Omit<LeastOuting, 'text'>,
  after: readonly Judgement[],
  units: UnitSystem,
): string {
  const dayText = (day: DayWalk) =>
    `${atLeastLengthText(day.distanceM, units)} with ${atLeastClimbText(day.gainM, units)} of climb`;
  const ground = rockClass === null ? '' : `, on class ${rockClass} ground`;
  const day = `${dayText({ distanceM, gainM })}${ground}`;
  const before = steps.slice(0, -1).map(dayText);
  const steadily = `${plural(steps.length, 'outing')}, each a step beyond the one before, with everyone who goes`;
  const led =
    steps.length === 1
      ? `one day of ${day}, close to the trip, with everyone who goes`
      : steps.length <= MOST_STEPS_TOLD
        ? `${steadily}: ${before.join('; ')}; then ${day}, the last close to the trip`
        : `${steadily}: from ${before[0] ?? ''} up to ${day}, the last close to the trip`;
  if (leaves.length === 0) return led;
  const left = leaves.map((name) => {
    const verdict = after.find((judgement) => judgement.name === name)?.verdict ?? 'notYet';
    return `${questionText(name)} (${VERDICT_TEXT[verdict]})`;
  });
  return `${led}; that leaves ${left.join(', ')}`;
}

/**
 * Whether distance, climb and work of a route fit once everyone who goes has walked a day more, on the trip's own date:
 * it counts in full, and for each of them as soon as it is more than what they have shown.
 */
export function fitsWith(input: FitInput, shown: Demonstrated): (day: DayWalk) => boolean {
  const lengthM = distanceDemandM(input);
  const climb = gainDemandOf(input);
  const { workKj } = input;
  if (lengthM === null || climb === null || workKj === null) return () => false;
  const climbedM = shownGain(shown.climbs, climb.doubt)?.value ?? 0;
  const isMet = (demand: number, before: number, day: number): boolean => {
    const most = Math.max(before, day);
    return most > 0 && demand / most <= 1;
  };
  return ({ distanceM, gainM }) =>
    isMet(lengthM, shown.distanceM?.value ?? 0, distanceM) &&
    isMet(climb.band.high, climbedM, gainM) &&
    isMet(
      workKj,
      shown.effortKj?.value ?? 0,
      effortKj(handQuantities(distanceM, gainM), input.ageBand, input.design),
    );
}

/**
 * The least outing for a route that is not yet, or a stretch, by what training changes: the criteria inverted, found
 * again by judging the route with the outing added on the trip's date. It has no time, so the pace stays as it is.
 * `null`: nothing that one day changes is in the way.
 */
export function leastOuting({
  fit,
  input,
  request,
  readiness,
  judgedWith,
  units,
}: Question): LeastOuting | null {
  if (fit.verdict !== 'notYet' && fit.verdict !== 'stretch') return null;
  const open = new Set(fit.gap.map(({ criterion }) => criterion));
  const { shown } = readiness;
  if (!TRAINED.some((name) => open.has(name)) || shown.distanceM === null || shown.gainM === null)
    return null;

  const { route } = input;
  const { record, date, design } = request;
  const { members = null, going = null } = record.cohort;
  const rockClass = open.has('rockClass') ? (route.attributes.rockClass ?? null) : null;
  const before = { distanceM: shown.distanceM.value, gainM: shown.gainM.value };
  const gainHighM = route.measures.gainM?.high ?? 0;
  // What was shown already need not be more; a day on harder ground alone need be no longer than the route.
  const base = {
    distanceM: open.has('distance')
      ? route.measures.distanceM
      : Math.min(before.distanceM, route.measures.distanceM),
    gainM: open.has('gain') ? gainHighM : Math.min(before.gainM, gainHighM),
  };
  const dayOf = (factor: number): DayWalk => ({
    distanceM: base.distanceM * factor,
    gainM: base.gainM * factor,
  });
  const isEnough = fitsWith(input, shown);
  const factor = leastFactor((tried) => isEnough(dayOf(tried)));
  if (factor === null) return null;
  const target = dayOf(factor);
  const after = judgedWith(handOuting({ date, ...target, rockClass, members: labelsOf({ members, going }) }));
  const growth = Math.min(
    readiness.ageBand === 'adult' ? design.training.stepAdult : design.training.stepMinor,
    stretchLimit({ ageBand: readiness.ageBand, design }) - 1,
  );
  const found = {
    ...target,
    rockClass,
    steps: saneSteps(before, target, Math.max(0.01, growth)),
    leaves: after.filter(({ verdict }) => verdict !== 'fits').map(({ name }) => name),
  };
  return { ...found, text: textOf(found, after, units) };
}
