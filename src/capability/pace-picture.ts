import type { Design } from '../design.ts';
import type { Outing } from './outing.ts';
import { DAY } from './pace-diagnostics.ts';
import { fitPaceModel, type PaceModel, predictMoving, type Spread, spreadOf } from './pace-model.ts';
import { type Quantities, scaled } from './quantities.ts';

/** The pace before and after the outings over walks of all lengths, and the outings themselves. */
export interface PacePicture {
  /** Walks that climb as a plain mountain day does, from short to long; `ruleMin` is the middle time before any outing. */
  readonly walks: readonly { readonly ruleMin: number; readonly before: Spread; readonly after: Spread }[];
  readonly days: readonly {
    readonly date: string;
    readonly ruleMin: number;
    readonly movingMin: number;
    /** How much the day still counts, 0 to 1. */
    readonly weight: number;
  }[];
}

/** So many walks are shown (design: the bands are near to straight). */
const WALKS = 8;
/** Walks are shown up to so many times the longest outing, and at least up to so many minutes (design). */
const REACH = 1.15;
const LEAST_REACH_MIN = 240;

export function pacePicture(
  outings: readonly Outing[],
  design: Design,
  weightOf: (outing: Outing) => number,
): PacePicture {
  const before = fitPaceModel([], design);
  const after = fitPaceModel(outings, design, weightOf);
  const ruleMin = (walk: Quantities) => predictMoving(before, walk).meanMin;
  const days = outings
    .filter((outing) => outing.parts.length > 0 && weightOf(outing) > 0)
    .map((outing) => ({
      date: outing.date,
      ruleMin: outing.parts.reduce((sum, { quantities }) => sum + ruleMin(quantities), 0),
      movingMin: outing.parts.reduce((sum, { movingMin }) => sum + movingMin, 0),
      weight: weightOf(outing),
    }))
    .sort((a, b) => (a.date < b.date ? -1 : 1));
  const mostMin = Math.max(LEAST_REACH_MIN, ...days.map((day) => REACH * day.ruleMin));
  const dayMin = ruleMin(DAY);
  const walks = Array.from({ length: WALKS + 1 }, (_, i) => {
    const walk = scaled(DAY, (i * mostMin) / WALKS / dayMin);
    const bandOf = (model: PaceModel) => spreadOf(predictMoving(model, walk));
    return { ruleMin: ruleMin(walk), before: bandOf(before), after: bandOf(after) };
  });
  return { walks, days };
}
