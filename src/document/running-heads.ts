import { cssText } from '../markup/plain-text.ts';
import { PAGE_NAMES } from './page-names.ts';
import type { PlanDocument } from './plan-document.ts';

/**
 * Rules that print the plan's title and the page's name at the head of every sheet, the second and later ones of a
 * page too (CSS Paged Media 3, page-margin boxes). A browser that has no such boxes leaves them out; the page's own
 * head says the same on its first sheet.
 */
export function runningHeads({ title, pages }: PlanDocument): string {
  return pages
    .map(
      ({ key }) =>
        `@page ${key}{@top-left{content:${cssText(title)}}@top-right{content:${cssText(PAGE_NAMES[key])}}}.${key}{page:${key}}`,
    )
    .join('\n');
}
