import { wholeFigures } from '../../markup/words.tsx';
import { inTwoRows, labelLines, labelSlots } from './labels.ts';
import {
  FONT_PX,
  LINE_PX,
  type ProfileDrawing,
  type ProfileFrame,
  type ProfileMark,
} from './profile-drawing.ts';

/** Room in the drawing (design): left of the plot for heights, right and below for lengths, above it for bends. */
const LEFT = 58;
const RIGHT = 54;
const BELOW = 30;
const BENDS = 26;
const NUMBER_WIDTH = 20;

const byName = ({ name, times, by }: ProfileMark, width: number) => {
  const lines = (text: string) => (text === '' ? [] : labelLines(wholeFigures(text), width, FONT_PX));
  return { bold: lines(name), plain: [...lines(times), ...lines(by ?? '')] };
};

/** Places the labels above the plot, in one row or two; the drawing is as high as they need. */
export function profileLayout({ marks }: ProfileDrawing, frame: ProfileFrame) {
  const { width, plotHeight } = frame;
  const named = labelSlots(marks.length, width, frame.leastLabelWidth);
  // Numbers stand in one row as long as they have room; past that they are as close as they must be.
  const numbered = labelSlots(marks.length, width, NUMBER_WIDTH) ?? inTwoRows(marks.length, width);
  const { slots, width: labelWidth } = named ?? numbered;
  const texts = marks.map((mark, i) =>
    named === null ? { bold: [`${i + 1}`], plain: [] } : byName(mark, labelWidth - 8),
  );
  const rowHeight = (row: 0 | 1): number =>
    texts.reduce((most, { bold, plain }, i) => {
      const lines = slots[i]?.row === row ? bold.length + plain.length : 0;
      return lines === 0 ? most : Math.max(most, lines * LINE_PX + 6);
    }, 0);
  const second = rowHeight(0);
  const bendTop = second + rowHeight(1);
  const top = bendTop + BENDS;
  return {
    /** Marks have their names and times; else their numbers. */
    isNamed: named !== null,
    labels: texts.map((text, i) => {
      const { x, row } = slots[i] ?? { x: 0, row: 0 };
      return { ...text, x, top: row === 0 ? 0 : second };
    }),
    /** Where the bends of the leaders begin, below all labels. */
    bendTop,
    box: { left: LEFT, right: width - RIGHT, top, bottom: top + plotHeight },
    height: top + plotHeight + BELOW,
  };
}

export type ProfileLayout = ReturnType<typeof profileLayout>;
