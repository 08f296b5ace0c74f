import type { FastifyRequest } from 'fastify';
import { attributionOf } from '../../route/attribution.ts';
import type { StoredOuting } from '../../storage/outings.ts';
import type { Surface } from '../../terrain/surface.ts';
import type { PageFrame } from '../../web/page-frame.ts';
import type { Assets } from './assets.ts';
import { unitsOf } from './units.ts';

export type FrameOf = (request: FastifyRequest) => PageFrame;

/** A path of the service with what its public address puts before it. */
function pathUnder(publicUrl: string): (path: string) => string {
  const before = new URL(publicUrl).pathname.replace(/\/+$/, '');
  return (path) => `${before}${path}`;
}

/** Makes what the pages of a request share. */
export function frames(
  { style, drawingStyle, scripts }: Assets,
  publicUrl: string,
  today: () => string,
  surface: Pick<Surface, 'sources'>,
): FrameOf {
  const to = pathUnder(publicUrl);
  const scriptUrl = (name: string): string => {
    const script = scripts.get(name);
    if (script === undefined) throw new RangeError(`there is no script ${name}`);
    return to(script.path);
  };
  return (request) => ({
    to,
    here: request.url,
    units: unitsOf(request),
    today: today(),
    attribution: attributionOf(surface.sources),
    styleUrl: to(style.path),
    drawingStyleUrl: to(drawingStyle.path),
    scriptUrl,
  });
}

/** The frame of a page that rests on recorded days too, which may come from tiles that are no longer there. */
export const restingOn = (of: PageFrame, outings: readonly StoredOuting[]): PageFrame => ({
  ...of,
  attribution: attributionOf([of, ...outings.map(({ outing }) => outing)]),
});
