/** @jsxRuntime automatic @jsxImportSource preact */
import { area, line } from 'd3-shape';
import type { VNode } from 'preact';
import { heightText } from '../../text/words.ts';
import { ProfileAxes } from './axes.tsx';
import { type ProfileFrame, tenth } from './frame.ts';
import { hasRoomAtStart, type Point, thinned } from './ground.ts';
import { profileLayout } from './layout.ts';
import { ProfileMarks } from './marks.tsx';
import type { ProfileDrawing } from './profile-drawing.ts';
import { profileWords } from './profile-drawing.ts';
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
