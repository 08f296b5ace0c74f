import type { ProfileDrawing } from '../../plan/plan-document.ts';
import { heightText } from '../../text/words.ts';

/** The treeline in a sentence. */
export const treelineWords = ({ treelineM, units }: ProfileDrawing): string =>
  treelineM === null
    ? 'Treeline is not known.'
    : `Treeline at ${heightText(treelineM, units)}; the ground above it is hatched.`;

/** All that the drawing shows, in words. */
export function profileWords(drawing: ProfileDrawing): string {
  const markTexts = drawing.marks.map(
    ({ name, times, by }) => `${[name, times, by].filter(Boolean).join(', ')}.`,
  );
  return [treelineWords(drawing), ...markTexts].join(' ');
}
