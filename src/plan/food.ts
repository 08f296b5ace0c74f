import type { Design } from '../design.ts';

export type MealKind = 'nightBefore' | 'breakfast' | 'snacks' | 'lunch' | 'treat' | 'emergency';

export interface Meal {
  readonly kind: MealKind;
  /** `null`: eaten before the start and not weighed here. */
  readonly kcal: number | null;
  readonly kg: number | null;
}

export interface FoodNeed {
  readonly eatKcal: number;
  /** Whether the hours or the day's work asked for it. */
  readonly because: 'hours' | 'work';
  readonly workWithMarginKcal: number | null;
  /** To carry: what is eaten and what is kept for an emergency. */
  readonly carryKcal: number;
  readonly carryKg: number;
  readonly meals: readonly Meal[];
}

/**
 * Food of one person for a day, kcal and kg: so much an hour, at least half of the day's work with its margin, and an
 * emergency ration (all design, sources.md §9: the US National Park Service is quoted with 300 to 500 kcal an hour,
 * "twice the normal"). The model of work is not validated on minors (Looney et al. 2019: adults): its margin is
 * added and shown.
 * @param hours of the late day (p90)
 * @param workKcal of the whole day for this person, without margin; `null`: not known, the hours alone count
 * @throws RangeError on hours or work below 0.
 */
export function foodNeed(
  hours: number,
  kcalPerH: number,
  workKcal: number | null,
  settings: Design['supplies'],
): FoodNeed {
  if (!Number.isFinite(hours) || hours < 0) throw new RangeError(`a day of ${hours} h is not 0 or more`);
  if (workKcal !== null && !(workKcal >= 0))
    throw new RangeError(`work of ${workKcal} kcal is not 0 or more`);
  const { lunchShare, treatShare, emergencyKcal, kcalPerKg } = settings;
  const byHoursKcal = kcalPerH * hours;
  const workWithMarginKcal = workKcal === null ? null : workKcal * (1 + settings.workMargin);
  const byWorkKcal = settings.leastShareOfWork * (workWithMarginKcal ?? 0);
  const eatKcal = Math.max(byHoursKcal, byWorkKcal);
  const carried = (kind: MealKind, kcal: number): Meal => ({ kind, kcal, kg: kcal / kcalPerKg });
  const carryKcal = eatKcal + emergencyKcal;
  return {
    eatKcal,
    because: byWorkKcal > byHoursKcal ? 'work' : 'hours',
    workWithMarginKcal,
    carryKcal,
    carryKg: carryKcal / kcalPerKg,
    meals: [
      { kind: 'nightBefore', kcal: null, kg: null },
      { kind: 'breakfast', kcal: null, kg: null },
      carried('snacks', eatKcal * (1 - lunchShare - treatShare)),
      carried('lunch', eatKcal * lunchShare),
      carried('treat', eatKcal * treatShare),
      carried('emergency', emergencyKcal),
    ],
  };
}
