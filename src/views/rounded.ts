/** How figures are rounded where they are sent. */

// + 0 turns -0 into 0.
export const places = (value: number, decimals: number): number => {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale + 0;
};

export const placesOrNull = (value: number | null, decimals: number): number | null =>
  value === null ? null : places(value, decimals);

export const tenth = (value: number): number => places(value, 1);
export const tenthOrNull = (value: number | null): number | null => placesOrNull(value, 1);
