/** @jsxRuntime automatic @jsxImportSource preact */
import { renderToString } from 'preact-render-to-string';
import { plainTexts } from '../../markup/plain-text.ts';
import { PROFILE_STYLE } from '../../markup/screen-style.ts';
import { WIDE } from './frame.ts';
import type { ProfileDrawing } from './profile-drawing.ts';
import { ProfileSvg } from './svg.tsx';

const ALONE = {
  xmlns: 'http://www.w3.org/2000/svg',
  style: `svg{color:#111;font-family:Georgia,serif}.paper{fill:#fffdf8}${PROFILE_STYLE}`,
};

/** The profile of a day as an SVG file of its own; `null`: no heights known. */
export function profileFile(drawing: ProfileDrawing): string | null {
  const text = renderToString(<ProfileSvg drawing={plainTexts(drawing)} frame={WIDE} alone={ALONE} />);
  return text === '' ? null : `${text}\n`;
}
