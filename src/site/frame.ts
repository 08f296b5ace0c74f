import type { FastifyRequest } from 'fastify';
import { attributionOf } from '../route/attribution.ts';
import type { StoredOuting } from '../storage/outings.ts';
import type { Surface } from '../terrain/surface.ts';
import type { UnitSystem } from '../units.ts';
import type { Assets } from './assets.ts';
import { type FrameOf, type PageFrame, queryOf } from './page.ts';

/** What a page that a form leads to says of it. The address names one of these and nothing else: no text comes from it. */
const DONE = {
  stored: 'Stored.',
  storedNext: 'The route before this one is stored.',
  allStated: 'Stored. Nothing is left to state of any route.',
  routeDeleted: 'The route is deleted.',
  cohortMade: 'The cohort is stored. Next: a day that it has walked.',
  cohortErased: 'The cohort and its days are erased.',
  dayErased: 'The day is erased.',
  loaded: 'The invented range is loaded.',
} as const;

/** The same address with the word that makes the page say what was done. */
export const having = (path: string, done: keyof typeof DONE): string =>
  `${path}${path.includes('?') ? '&' : '?'}done=${done}`;

function doneOf(request: FastifyRequest): string | null {
  const done = queryOf(request).get('done') ?? '';
  return Object.hasOwn(DONE, done) ? DONE[done as keyof typeof DONE] : null;
}

/** Holds the reader's choice of units. */
export const UNITS_COOKIE = 'krummholz-units';

/** The units that the reader has chosen: by a setting, never by language. */
function unitsOf(request: FastifyRequest): UnitSystem {
  const cookies = (request.headers.cookie ?? '').split(';').map((cookie) => cookie.trim());
  return cookies.includes(`${UNITS_COOKIE}=us`) ? 'us' : 'metric';
}

/** Makes what the pages of a request share. */
export function frames(
  { style, drawingStyle, scripts }: Assets,
  publicUrl: string,
  today: () => string,
  surface: Pick<Surface, 'sources'>,
): FrameOf {
  const before = new URL(publicUrl).pathname.replace(/\/+$/, '');
  const to = (path: string): string => `${before}${path}`;
  const scriptUrl = (name: string): string => {
    const script = scripts.get(name);
    if (script === undefined) throw new RangeError(`there is no script ${name}`);
    return to(script.path);
  };
  return (request) => ({
    to,
    // Said once: not again when the units are changed.
    here: request.url.replace(/[?&]done=\w*$/, ''),
    done: doneOf(request),
    units: unitsOf(request),
    today: today(),
    attribution: attributionOf(surface.sources),
    styleUrl: to(style.path),
    drawingStyleUrl: to(drawingStyle.path),
    scriptUrl,
  });
}

/** The frame of a page that rests on recorded days too, which may come from tiles that are no longer there. */
export const restingOn = (frame: PageFrame, outings: readonly StoredOuting[]): PageFrame => ({
  ...frame,
  attribution: attributionOf([frame, ...outings.map(({ outing }) => outing)]),
});
