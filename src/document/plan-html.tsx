/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { ContourShape } from '../drawing/contours.tsx';
import { plainTexts } from '../markup/plain-text.ts';
import { SCREEN_STYLE } from '../markup/screen-style.ts';
import { Words } from '../markup/words.tsx';
import { PAGE_NAMES, type PlanDocument } from './plan-document.ts';
import { cardNames, PlanPage } from './plan-page.tsx';
import { PRINT_STYLE, runningHeads } from './print-style.ts';

function Plan({ document, style }: { readonly document: PlanDocument; readonly style: string }): VNode {
  const { title, measures, pages, profile, foot } = document;
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>{title}</title>
        {/* Our own text: numbers and letters alone come into it from a plan. */}
        <style dangerouslySetInnerHTML={{ __html: style }} />
      </head>
      <body>
        <a class="skip" href="#plan">
          Skip to the pages
        </a>
        <ContourShape />
        <header class="top">
          <h1>
            <Words text={title} />
          </h1>
        </header>
        <nav id="pages" aria-label="Pages of this plan" tabIndex={-1}>
          <ul>
            {pages.map(({ key }) => (
              <li>
                <a href={`#${key}`}>{PAGE_NAMES[key]}</a>
              </li>
            ))}
          </ul>
        </nav>
        <main id="plan" tabIndex={-1}>
          {pages.map(({ key, page }) => (
            <PlanPage
              id={key}
              page={page}
              planTitle={title}
              foot={foot}
              measures={key === 'leaders' ? measures : null}
              profile={key === 'leaders' ? profile : null}
            />
          ))}
        </main>
        <a class="to-pages" href="#pages">
          Pages
        </a>
      </body>
    </html>
  );
}

/**
 * A trip plan as one HTML file for screen and paper: style and drawing inside, no script, nothing fetched. Every page
 * of the plan starts on a sheet of its own; the sizes of A4 and Letter both do.
 */
export function planHtml(document: PlanDocument): string {
  const plain = plainTexts(document);
  const style = [SCREEN_STYLE, PRINT_STYLE, cardNames(plain), runningHeads(plain)].join('\n');
  return `<!doctype html>\n${renderToString(<Plan document={plain} style={style} />)}\n`;
}
