import { heightText } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';

/** A mark on the profile: a checkpoint with its times as text. */
export interface ProfileMark {
  readonly distanceM: number;
  readonly heightM: number | null;
  readonly name: string;
  /** `08:51 (08:17–09:26)`. */
  readonly times: string;
  /** `by 09:49`; `null`: no cut-off time here. */
  readonly by: string | null;
}

/** The profile of a day, to be drawn; every mark has its figures in text. */
export interface ProfileDrawing {
  /** Distance along the route and height, metres; `null`: not known. */
  readonly points: readonly (readonly [number, number | null])[];
  readonly treelineM: number | null;
  readonly units: UnitSystem;
  readonly marks: readonly ProfileMark[];
  readonly text: string;
}

export const treelineWords = ({ treelineM, units }: ProfileDrawing): string =>
  treelineM === null
    ? 'Treeline is not known.'
    : `Treeline at ${heightText(treelineM, units)}; the ground above it is hatched.`;

export function profileWords(drawing: ProfileDrawing): string {
  const markTexts = drawing.marks.map(
    ({ name, times, by }) => `${[name, times, by].filter(Boolean).join(', ')}.`,
  );
  return [treelineWords(drawing), ...markTexts].join(' ');
}

/** A size of the drawing; lengths in its own units, CSS pixels where it is shown at full size (all design). */
export interface ProfileFrame {
  readonly name: 'wide' | 'narrow';
  readonly width: number;
  readonly plotHeight: number;
  /** Names and times need at least so much each; where there is less, marks are numbered. */
  readonly leastLabelWidth: number;
}

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
