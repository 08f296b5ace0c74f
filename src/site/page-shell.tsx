/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChildren } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { ContourRule, ContourShape } from '../drawing/contours.tsx';
import type { PageFrame } from './page.ts';

/** The parts of the service, in the order of the menu. A new one is a line here. */
const SECTIONS = [
  ['cohorts', 'Cohorts', '/'],
  ['routes', 'Routes', '/routes'],
  ['season', 'Season', '/season'],
] as const;

type SectionKey = (typeof SECTIONS)[number][0];
type WayStep = readonly [name: string, path: string];

export interface PageParts {
  readonly title: string;
  /** What has not happened for a fault, such as `Not stored`: the title begins with it. */
  readonly notDone?: string | null;
  readonly frame: PageFrame;
  /** The part of the service that the page belongs to; `null`: none. */
  readonly section: SectionKey | null;
  /** The pages between that part's first and this one; left out: it is the first, or belongs to none. */
  readonly way?: readonly WayStep[] | undefined;
  /** Names of scripts of `site/scripts`; the page does its work without them. */
  readonly scripts?: readonly string[];
  readonly hasDrawings?: boolean;
  readonly children: ComponentChildren;
}

const UNITS = [
  ['metric', 'km m', 'kilometres and metres'],
  ['us', 'mi ft', 'miles and feet'],
] as const;

function Units({ frame }: { readonly frame: PageFrame }) {
  return (
    <form class="units" method="post" action={frame.to('/units')} aria-label="Units">
      <input type="hidden" name="back" value={frame.here} />
      {UNITS.map(([value, text, name]) => (
        <button type="submit" name="units" value={value} aria-pressed={frame.units === value}>
          <span aria-hidden="true">{text}</span>
          <span class="unseen">{name}</span>
        </button>
      ))}
    </form>
  );
}

function Way({ section, way, frame }: Pick<PageParts, 'section' | 'way' | 'frame'>) {
  if (way === undefined) return null;
  const first = SECTIONS.filter(([key]) => key === section).map(([, name, path]) => [name, path] as const);
  return (
    <nav class="way" aria-label="Pages above">
      {[...first, ...way].map(([name, path]) => (
        <>
          <a href={frame.to(path)}>{name}</a>
          {' / '}
        </>
      ))}
    </nav>
  );
}

function Shell({
  title,
  notDone = null,
  frame,
  section,
  way,
  scripts = [],
  hasDrawings = false,
  children,
}: PageParts) {
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>{`${notDone === null ? '' : `${notDone}: `}${title} · Krummholz`}</title>
        <link rel="stylesheet" href={frame.styleUrl} />
        {hasDrawings && <link rel="stylesheet" href={frame.drawingStyleUrl} />}
        <link rel="icon" href="data:," />
        {scripts.map((name) => (
          <script type="module" src={frame.scriptUrl(name)} />
        ))}
      </head>
      <body>
        <a class="skip" href="#main">
          Skip to the page
        </a>
        <ContourShape />
        <header class="site">
          <a class="name" href={frame.to('/')}>
            Krummholz
          </a>
          <nav aria-label="Main">
            <ul>
              {SECTIONS.map(([key, name, path]) => (
                <li>
                  <a href={frame.to(path)} aria-current={key === section ? 'true' : undefined}>
                    {name}
                  </a>
                </li>
              ))}
            </ul>
          </nav>
          <Units frame={frame} />
        </header>
        <ContourRule />
        <main id="main" tabIndex={-1}>
          <Way section={section} way={way} frame={frame} />
          <h1>{title}</h1>
          {frame.done !== null && (
            // biome-ignore lint/a11y/noAutofocus: the page is a new one; without this a reader does not hear that it was done.
            <p class="box notice screen" role="status" tabIndex={-1} autoFocus>
              {frame.done}
            </p>
          )}
          {children}
        </main>
        <footer class="foot">
          <p>
            Estimates from terrain data and past days. The leader on the spot decides; local rules come first.
            Not for navigation.
          </p>
          {frame.attribution.map((words) => (
            <p>Heights: {words}</p>
          ))}
          <p class="screen">
            There are no accounts yet: these pages are served on this machine only, and whoever uses it can
            change everything.
          </p>
        </footer>
      </body>
    </html>
  );
}

/** Where a part is put that is made later: no text can hold it, as texts are escaped. */
export const Later = () => <i data-later />;
const LATER = renderToString(<Later />);

/** What stands before and after the part of a page that is made later. */
export function pageAround(parts: PageParts): readonly [before: string, after: string] {
  const [before = '', after = ''] = pageHtml(parts).split(LATER);
  return [before, after];
}

/** A page of the service as HTML. Every text in it is escaped by the renderer; nothing in it is a script or a style. */
export function pageHtml(parts: PageParts): string {
  return `<!doctype html>\n${renderToString(<Shell {...parts} />)}\n`;
}
