import { heightText } from '../fit/words.ts';
import type { ProfileDrawing } from '../plan/plan-document.ts';

/** The treeline in metres and feet, in a sentence. */
export const treelineWords = (treelineM: number | null): string =>
  treelineM === null
    ? 'Treeline is not known.'
    : `Treeline at ${heightText(treelineM, 'metric')} (${heightText(treelineM, 'us')}); the ground above it is hatched.`;

/** All that the drawing shows, in words. */
export function profileWords({ treelineM, marks }: ProfileDrawing): string {
  const markTexts = marks.map(({ name, times, by }) => `${[name, times, by].filter(Boolean).join(', ')}.`);
  return [treelineWords(treelineM), ...markTexts].join(' ');
}
