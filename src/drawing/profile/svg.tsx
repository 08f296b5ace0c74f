/** @jsxRuntime automatic @jsxImportSource preact */
import { area, line } from 'd3-shape';
import type { VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { plainTexts } from '../../markup/plain-text.ts';
import { PROFILE_STYLE } from '../../markup/screen-style.ts';
import { heightText } from '../../text/words.ts';
import { hasRoomAtStart, type Point, thinned } from './ground.ts';
import { profileLayout } from './layout.ts';
import { ProfileMarks } from './marks.tsx';
import {
  FONT_PX,
  LINE_PX,
  type ProfileDrawing,
  type ProfileFrame,
  profileWords,
  tenth,
  WIDE,
} from './profile-drawing.ts';
import { type Box, type ProfileScales, profileScales } from './scales.ts';

interface GroundProps {
  readonly name: ProfileFrame['name'];
  readonly points: readonly Point[];
  readonly scales: ProfileScales;
  readonly box: Box;
}

/** The line of the ground, hatched where it lies above treeline; a gap where no height is known. */
function Ground({ name, points, scales, box }: GroundProps): VNode {
  const isKnown = ([, heightM]: Point) => heightM !== null;
  const x = ([distanceM]: Point) => scales.x(distanceM);
  const y = ([, heightM]: Point) => scales.y(heightM ?? 0);
  const ground = line<Point>().digits(1).defined(isKnown).x(x).y(y)(points);
  // Beside the treeline a point below it is kept, so that the hatching begins where the ground crosses it.
  const isOpen = (point: Point | undefined) =>
    point !== undefined && isKnown(point) && y(point) < scales.hatchedTo;
  const isHatched = (point: Point, i: number) =>
    isKnown(point) && [points[i - 1], point, points[i + 1]].some(isOpen);
  const below = area<Point>().digits(1).defined(isHatched).x(x).y1(y).y0(box.bottom)(points);
  return (
    <>
      <defs>
        <pattern
          id={`hatch-${name}`}
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path class="hatch" d="M0 0V7" />
        </pattern>
        <clipPath id={`above-${name}`}>
          <rect x={box.left} y="0" width={box.right - box.left} height={tenth(scales.hatchedTo)} />
        </clipPath>
      </defs>
      <path d={below ?? ''} fill={`url(#hatch-${name})`} clip-path={`url(#above-${name})`} />
      <path class="ground" d={ground ?? ''} />
    </>
  );
}

interface TreelineProps {
  /** ` 1,950 m`; empty where there is no room. */
  readonly figures: string;
  readonly y: number;
  readonly box: Box;
  readonly isAtStart: boolean;
}

function Treeline({ figures, y, box, isAtStart }: TreelineProps): VNode {
  return (
    <>
      <path class="treeline" d={`M${box.left} ${tenth(y)}H${box.right}`} />
      <text
        class="label"
        x={isAtStart ? box.left + 6 : box.right - 6}
        y={tenth(y - 5)}
        text-anchor={isAtStart ? 'start' : 'end'}
      >
        {`treeline${figures}`}
      </text>
    </>
  );
}

interface ProfileProps {
  readonly drawing: ProfileDrawing;
  readonly frame: ProfileFrame;
  /** For a file of its own: its namespace and style. In a page its caption says the title. */
  readonly alone?: { readonly xmlns: string; readonly style: string };
}

/**
 * The profile of a day as SVG: ground, treeline, the part above it hatched, marks with their times. Ink in the colour
 * of the text around it. `null`: no heights known, nothing to draw.
 */
export function ProfileSvg({ drawing, frame, alone }: ProfileProps): VNode | null {
  const { name, width } = frame;
  const { points } = drawing;
  const layout = profileLayout(drawing, frame);
  const { box, height } = layout;
  const scales = profileScales(drawing, box);
  if (scales === null) return null;
  return (
    <svg
      xmlns={alone?.xmlns}
      class={`profile ${name}`}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-labelledby={`${alone === undefined ? '' : `profile-${name}-title `}profile-${name}-words`}
    >
      <title id={`profile-${name}-title`}>{drawing.text}</title>
      <desc id={`profile-${name}-words`}>{profileWords(drawing)}</desc>
      {alone !== undefined && <style>{alone.style}</style>}
      {alone !== undefined && <rect class="paper" width={width} height={height} />}
      {/* A point for every other pixel. */}
      <Ground name={name} points={thinned(points, width / 2)} scales={scales} box={box} />
      <ProfileAxes scales={scales} box={box} />
      <ProfileMarks drawing={drawing} layout={layout} scales={scales} />
      {scales.treelineM !== null && (
        <Treeline
          figures={name === 'narrow' ? '' : ` ${heightText(scales.treelineM, drawing.units)}`}
          y={scales.hatchedTo}
          box={box}
          isAtStart={hasRoomAtStart(points, scales.treelineM)}
        />
      )}
    </svg>
  );
}

/** Figures at the edges of the plot: lengths below it with their unit at the end, heights left of it. */
function ProfileAxes({ scales, box }: { readonly scales: ProfileScales; readonly box: Box }): VNode {
  const { lengths, lengthUnit, heights } = scales;
  return (
    <g class="axes">
      {lengths.map(({ at, text }) => (
        <text x={tenth(at)} y={box.bottom + LINE_PX} text-anchor="middle">
          {text}
        </text>
      ))}
      <text x={box.right + 12} y={box.bottom + LINE_PX}>
        {lengthUnit}
      </text>
      {heights.map(({ at, text }) => (
        <text x={box.left - 6} y={tenth(at + FONT_PX / 3)} text-anchor="end">
          {text}
        </text>
      ))}
    </g>
  );
}

const ALONE = {
  xmlns: 'http://www.w3.org/2000/svg',
  style: `svg{color:#111;font-family:Georgia,serif}.paper{fill:#fffdf8}${PROFILE_STYLE}`,
};

/** The profile of a day as an SVG file of its own; `null`: no heights known. */
export function profileFile(drawing: ProfileDrawing): string | null {
  const text = renderToString(<ProfileSvg drawing={plainTexts(drawing)} frame={WIDE} alone={ALONE} />);
  return text === '' ? null : `${text}\n`;
}
