import type { FastifyRequest } from 'fastify';
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
    styleUrl: to(style.path),
    drawingStyleUrl: to(drawingStyle.path),
    scriptUrl,
  });
}
