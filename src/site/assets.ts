import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import type { App } from '../http/deps.ts';
import { DRAWING_STYLE, SITE_STYLE } from './site-style.ts';

/** Beside the sources and in what is built of them alike. */
const SCRIPTS = new URL('./scripts/', import.meta.url);

function asset(name: string, ending: string, mediaType: string, text: string) {
  const hash = createHash('sha256').update(text).digest('hex').slice(0, 12);
  return { path: `/assets/${name}-${hash}.${ending}`, text, mediaType };
}

/** The style sheets and the scripts of the pages, under names that change with their content. */
export function readAssets() {
  const scripts = readdirSync(SCRIPTS)
    .filter((file) => file.endsWith('.js'))
    .map((file) => {
      const name = file.slice(0, -'.js'.length);
      return [
        name,
        asset(name, 'js', 'text/javascript', readFileSync(new URL(file, SCRIPTS), 'utf8')),
      ] as const;
    });
  return {
    style: asset('site', 'css', 'text/css', SITE_STYLE),
    /** Of pages with maps, profiles and charts, beside the other. */
    drawingStyle: asset('drawings', 'css', 'text/css', DRAWING_STYLE),
    /** By the name of the file in `site/scripts`, without its ending. */
    scripts: new Map(scripts),
  };
}

export type Assets = ReturnType<typeof readAssets>;

/** Serves them from memory; a browser keeps them for good. */
export function assetResource(app: App, { style, drawingStyle, scripts }: Assets): void {
  for (const { path, text, mediaType } of [style, drawingStyle, ...scripts.values()]) {
    app.get(path, { config: { produces: [mediaType] }, schema: { hide: true } }, async (_, reply) => {
      reply
        .header('cache-control', 'public, max-age=31536000, immutable')
        .type(`${mediaType}; charset=utf-8`);
      return text;
    });
  }
}
