import type { PageTable } from './people-page.ts';

/** Up to so many columns a table stays a table on a phone; a wider one becomes a card for each row (design). */
const MOST_PHONE_COLUMNS = 3;
/** From so many columns on a table is set small, and is cards on a tablet too (design). */
const MANY_COLUMNS = 7;

export const becomesCards = ({ columns }: PageTable): boolean => columns.length > MOST_PHONE_COLUMNS;

/** How a table is set, by its columns. */
export function tableClass(table: PageTable): string | undefined {
  if (!becomesCards(table)) return undefined;
  return table.columns.length < MANY_COLUMNS ? 'cards' : 'cards many';
}
