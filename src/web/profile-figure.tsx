/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import type { ProfileDrawing } from '../plan/plan-document.ts';
import { NARROW, WIDE } from './profile-frame.ts';
import { profileLayout } from './profile-layout.ts';
import { ProfileSvg } from './profile-svg.tsx';
import { treelineWords } from './profile-words.ts';
import { Words } from './words.tsx';

/** The drawing with what it means, for paper and phone; nothing but its sentence where no height is known. */
export function ProfileFigure({ drawing }: { readonly drawing: ProfileDrawing }): VNode {
  const { marks } = drawing;
  return (
    <figure
      class={profileLayout(drawing, WIDE).isNamed ? 'drawing' : 'drawing numbered'}
      aria-label="Profile and caption"
    >
      <ProfileSvg drawing={drawing} frame={WIDE} />
      <ProfileSvg drawing={drawing} frame={NARROW} />
      {marks.length > 0 && (
        <ol>
          {marks.map(({ name, times, by }) => (
            <li>
              <b>{name}</b> {[times, by?.replace(' ', '\u00A0')].filter(Boolean).join(', ')}
            </li>
          ))}
        </ol>
      )}
      <figcaption>
        <Words text={`${drawing.text} ${treelineWords(drawing)}`} />
        {marks.some(({ by }) => by !== null) && ' “by”: turn back if not here by then.'}
      </figcaption>
    </figure>
  );
}
