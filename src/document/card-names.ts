import { cssText } from '../markup/plain-text.ts';
import { sectionId } from './page-names.ts';
import type { PlanDocument } from './plan-document.ts';
import { becomesCards } from './table-class.ts';

/** Rules that name each value of a table where it is shown as cards: said once for a column, not in every cell. */
export function cardNames({ pages }: PlanDocument): string {
  return pages
    .flatMap(({ key, page }) =>
      page.sections.flatMap(({ table }, index) =>
        table === null || !becomesCards(table)
          ? []
          : table.columns.map(
              (column, at) =>
                `[aria-labelledby=${sectionId(key, index)}] td:nth-child(${at + 1}){--name:${cssText(column)}}`,
            ),
      ),
    )
    .join('\n');
}
