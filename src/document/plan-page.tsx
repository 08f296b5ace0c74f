/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { ContourRule } from '../drawing/contours.tsx';
import { ProfileFigure } from '../drawing/profile/figure.tsx';
import type { ProfileDrawing } from '../drawing/profile/profile-drawing.ts';
import { Words } from '../markup/words.tsx';
import { Section } from './page-section.tsx';
import { type PeoplePage, pageSources } from './people-page.ts';
import { ONE_SHEET, type PageKey, sectionId } from './plan-document.ts';

interface PageProps {
  readonly id: PageKey;
  readonly page: PeoplePage;
  /** Of the plan: which route, which day. */
  readonly planTitle: string;
  readonly foot: string;
  /** The measures in both units, shown on paper alone. */
  readonly measures: string | null;
  readonly profile: ProfileDrawing | null;
}

/** One page of a plan, printed on a sheet of its own. */
export function PlanPage({ id, page, planTitle, foot, measures, profile }: PageProps): VNode {
  const sources = pageSources(page);
  return (
    <article
      id={id}
      aria-labelledby={`${id}-title`}
      tabIndex={-1}
      class={`page ${id}${ONE_SHEET.has(id) ? ' one-sheet' : ''}`}
    >
      <header>
        {page.title !== planTitle && (
          <p class="of">
            <Words text={planTitle} />
          </p>
        )}
        <h2 id={`${id}-title`}>
          <Words text={page.title} />
        </h2>
        {measures !== null && (
          <p class="on-paper">
            <Words text={measures} />
          </p>
        )}
        <ContourRule />
      </header>
      {profile !== null && <ProfileFigure drawing={profile} />}
      <div class="sections">
        {page.sections.map((part, index) => (
          <Section part={part} id={sectionId(id, index)} sources={sources} />
        ))}
      </div>
      <footer>
        {/* A space: on one sheet both run on in a line. */}
        {sources.length > 0 && (
          <p>Sources: {sources.map((source, index) => `[${index + 1}] ${source}`).join('; ')}.</p>
        )}{' '}
        <p>{foot}</p>
      </footer>
    </article>
  );
}
