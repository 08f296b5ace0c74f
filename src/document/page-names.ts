import type { PageKey } from './plan-document.ts';

/** What a page is called in the menu and at the head of its sheets. */
export const PAGE_NAMES: Readonly<Record<PageKey, string>> = {
  leaders: 'For the leaders',
  routeCard: 'Route card',
  morning: 'On the morning',
  emergency: 'Emergency',
  participants: 'For participants',
  office: 'Office',
  training: 'Training',
};

/** The id of a section's heading. */
export const sectionId = (key: PageKey, index: number): string => `${key}-${index + 1}`;

/** Pages that are handed out or grabbed alone: set so as to fit one sheet of paper. */
export const ONE_SHEET: ReadonlySet<PageKey> = new Set(['participants', 'emergency']);
