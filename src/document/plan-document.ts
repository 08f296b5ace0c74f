import type { ProfileDrawing } from '../drawing/profile/profile-drawing.ts';
import type { PeoplePage } from './people-page.ts';

/** Which page of a plan, as it is asked for and as it is named in a file. */
export const PAGE_KEYS = [
  'leaders',
  'routeCard',
  'morning',
  'emergency',
  'participants',
  'office',
  'training',
] as const;

export type PageKey = (typeof PAGE_KEYS)[number];

/** A trip plan as pages for people: what is printed, in this order, by text and HTML alike. */
export interface PlanDocument {
  readonly title: string;
  /** Distance, climb and highest point in both units, for the paper of the leaders. */
  readonly measures: string;
  readonly pages: readonly { readonly key: PageKey; readonly page: PeoplePage }[];
  readonly profile: ProfileDrawing | null;
  /** At the foot of every page: what the plan is, method and settings. */
  readonly foot: string;
}

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
