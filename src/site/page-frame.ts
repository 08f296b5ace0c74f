import type { FastifyRequest } from 'fastify';
import type { UnitSystem } from '../units.ts';

/** What a page needs to know of the service and of the reader. Made from the request, the same for all pages. */
export interface PageFrame {
  /** The address of a path of the service, such as `/routes`: with what its public address puts before it. */
  readonly to: (path: string) => string;
  /** Path and query of this page, as `to` takes it: where a form leads back to. */
  readonly here: string;
  readonly units: UnitSystem;
  /** What was done just before, in a sentence; `null`: nothing. */
  readonly done: string | null;
  /** `YYYY-MM-DD` in UTC, for the days that forms offer. */
  readonly today: string;
  /** Words that the elevation tiles ask for: they stand at the foot of every page. */
  readonly attribution: readonly string[];
  readonly styleUrl: string;
  readonly drawingStyleUrl: string;
  /** The address of a script of `site/scripts` by its name without ending. */
  readonly scriptUrl: (name: string) => string;
}

/** Makes what the pages of a request share. */
export type FrameOf = (request: FastifyRequest) => PageFrame;
