/** A size of the drawing; lengths in its own units, CSS pixels where it is shown at full size (all design). */
export interface ProfileFrame {
  /** Also in the ids inside. */
  readonly name: 'wide' | 'narrow';
  readonly width: number;
  readonly plotHeight: number;
  /** Names and times need at least so much each; where there is less, marks are numbered. */
  readonly leastLabelWidth: number;
}

/** For paper and wide screens. */
export const WIDE: ProfileFrame = { name: 'wide', width: 720, plotHeight: 200, leastLabelWidth: 124 };

/** For phones: marks are always numbered, the list below the drawing says the rest. */
export const NARROW: ProfileFrame = {
  name: 'narrow',
  width: 340,
  plotHeight: 170,
  leastLabelWidth: Number.POSITIVE_INFINITY,
};

/** Size of the drawing's letters; the style of the page says the same. */
export const FONT_PX = 13;
export const LINE_PX = 16;

/** To a tenth of a unit: finer is not seen. */
export const tenth = (value: number): number => Math.round(value * 10) / 10;
