/** @jsxRuntime automatic @jsxImportSource preact */
import { area, line } from 'd3-shape';
import { renderToString } from 'preact-render-to-string';
import { at as valueAt } from '../../array.ts';
import { plainTexts } from '../../markup/plain-text.ts';
import { PROFILE_STYLE } from '../../markup/screen-style.ts';
import { Words } from '../../markup/words.tsx';
import { heightText } from '../../text/words.ts';
import { groundM, hasRoomAtStart, type Point, thinned } from './ground.ts';
import { type ProfileLayout, profileLayout } from './layout.ts';
import {
  FONT_PX,
  LINE_PX,
  NARROW,
  type ProfileDrawing,
  type ProfileFrame,
  profileWords,
  tenth,
  treelineWords,
  WIDE,
} from './profile-drawing.ts';
import { type Box, type ProfileScales, profileScales } from './scales.ts';

interface Placed {
  readonly frame: ProfileFrame;
  readonly layout: ProfileLayout;
  readonly scales: ProfileScales;
}

/** The line of the ground, hatched where it lies above treeline; a gap where no height is known. */
function ground(points: readonly Point[], { frame: { name }, layout: { box }, scales }: Placed) {
  const isKnown = ([, heightM]: Point) => heightM !== null;
  const x = ([distanceM]: Point) => scales.x(distanceM);
  const y = ([, heightM]: Point) => scales.y(heightM ?? 0);
  // Beside the treeline a point below it is kept, so that the hatching begins where the ground crosses it.
  const isOpen = (point: Point | undefined) =>
    point !== undefined && isKnown(point) && y(point) < scales.hatchedTo;
  const isHatched = (point: Point, i: number) =>
    isKnown(point) && [points[i - 1], point, points[i + 1]].some(isOpen);
  const below = area<Point>().digits(1).defined(isHatched).x(x).y1(y).y0(box.bottom)(points);
  const hatch = { width: '7', height: '7', patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' };
  return (
    <>
      <defs>
        <pattern id={`hatch-${name}`} {...hatch}>
          <path class="hatch" d="M0 0V7" />
        </pattern>
        <clipPath id={`above-${name}`}>
          <rect x={box.left} y="0" width={box.right - box.left} height={tenth(scales.hatchedTo)} />
        </clipPath>
      </defs>
      <path d={below ?? ''} fill={`url(#hatch-${name})`} clip-path={`url(#above-${name})`} />
      <path class="ground" d={line<Point>().digits(1).defined(isKnown).x(x).y(y)(points) ?? ''} />
    </>
  );
}

function treeline({ points, units }: ProfileDrawing, { frame, layout: { box }, scales }: Placed) {
  if (scales.treelineM === null) return null;
  const y = scales.hatchedTo;
  const isAtStart = hasRoomAtStart(points, scales.treelineM);
  const x = isAtStart ? box.left + 6 : box.right - 6;
  return (
    <>
      <path class="treeline" d={`M${box.left} ${tenth(y)}H${box.right}`} />
      <text class="label" x={x} y={tenth(y - 5)} text-anchor={isAtStart ? 'start' : 'end'}>
        {`treeline${frame.name === 'narrow' ? '' : ` ${heightText(scales.treelineM, units)}`}`}
      </text>
    </>
  );
}

/**
 * Marks with their labels. A leader goes straight down from its label, bends, and goes straight down to the ground: in
 * the order of the marks above and below, so that none crosses another. Where the height is not known it ends above.
 */
function marksWithLabels({ points, marks }: ProfileDrawing, { layout, scales }: Placed) {
  const { labels, box, bendTop } = layout;
  return (
    <g class="marks">
      {labels.map((label, i) => {
        const mark = valueAt(marks, i);
        const heightM = mark.heightM ?? groundM(points, mark.distanceM);
        const x = tenth(scales.x(mark.distanceM));
        const y = heightM === null ? box.top : tenth(scales.y(heightM));
        const lines = [...label.bold, ...label.plain];
        const start = label.top + lines.length * LINE_PX + 3;
        const isBold = (n: number) => (n < label.bold.length ? 'bold' : undefined);
        return (
          <g>
            <path class="leader" d={`M${tenth(label.x)} ${start}V${bendTop}L${x} ${box.top - 4}V${y}`} />
            {heightM !== null && <circle cx={x} cy={y} r={3.5} />}
            <text class="label" text-anchor="middle">
              {lines.map((text, n) => (
                <tspan x={tenth(label.x)} y={label.top + (n + 1) * LINE_PX - 3} font-weight={isBold(n)}>
                  {text}
                </tspan>
              ))}
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** Figures at the edges of the plot: lengths below it with their unit at the end, heights left of it. */
const axes = ({ lengths, lengthUnit, heights }: ProfileScales, box: Box) => (
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
function ProfileSvg({ drawing, frame, alone }: ProfileProps) {
  const { name, width } = frame;
  const layout = profileLayout(drawing, frame);
  const { box, height } = layout;
  const scales = profileScales(drawing, box);
  if (scales === null) return null;
  const placed = { frame, layout, scales };
  const [titleId, wordsId] = [`profile-${name}-title`, `profile-${name}-words`];
  return (
    <svg
      xmlns={alone?.xmlns}
      class={`profile ${name}`}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-labelledby={alone === undefined ? wordsId : `${titleId} ${wordsId}`}
    >
      <title id={titleId}>{drawing.text}</title>
      <desc id={wordsId}>{profileWords(drawing)}</desc>
      {alone !== undefined && <style>{alone.style}</style>}
      {alone !== undefined && <rect class="paper" width={width} height={height} />}
      {/* A point for every other pixel. */}
      {ground(thinned(drawing.points, width / 2), placed)}
      {axes(scales, box)}
      {marksWithLabels(drawing, placed)}
      {treeline(drawing, placed)}
    </svg>
  );
}

/** The drawing with what it means, for paper and phone; nothing but its sentence where no height is known. */
export function ProfileFigure({ drawing }: { readonly drawing: ProfileDrawing }) {
  const { marks } = drawing;
  const kind = profileLayout(drawing, WIDE).isNamed ? 'drawing' : 'drawing numbered';
  return (
    <figure class={kind} aria-label="Profile and caption">
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

const ALONE = {
  xmlns: 'http://www.w3.org/2000/svg',
  style: `svg{color:#111;font-family:Georgia,serif}.paper{fill:#fffdf8}${PROFILE_STYLE}`,
};

/** The profile of a day as an SVG file of its own; `null`: no heights known. */
export function profileFile(drawing: ProfileDrawing): string | null {
  const text = renderToString(<ProfileSvg drawing={plainTexts(drawing)} frame={WIDE} alone={ALONE} />);
  return text === '' ? null : `${text}\n`;
}
