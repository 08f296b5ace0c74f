/** Exact conversion factors. SI inside; these are for reading inputs and for printing. */
export const M_PER_FT = 0.3048; // international foot, exact
export const M_PER_US_SURVEY_FT = 1200 / 3937; // US survey foot, exact; met only in elevation tiles
export const M_PER_MILE = 1609.344; // international mile, exact
export const MIN_PER_H = 60;
export const MS_PER_MIN = 60_000;
export const MS_PER_DAY = 86_400_000;
export const KJ_PER_KCAL = 4.184; // thermochemical calorie, exact

export type UnitSystem = 'metric' | 'us';
