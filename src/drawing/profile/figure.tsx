/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { Words } from '../../markup/words.tsx';
import { profileLayout } from './layout.ts';
import { NARROW, type ProfileDrawing, treelineWords, WIDE } from './profile-drawing.ts';
import { ProfileSvg } from './svg.tsx';

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
