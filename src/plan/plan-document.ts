import type { UnitSystem } from '../units.ts';
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
  /** Of its axes and of the treeline. */
  readonly units: UnitSystem;
  readonly marks: readonly ProfileMark[];
  /** What the drawing shows, in a sentence. */
  readonly text: string;
}

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
