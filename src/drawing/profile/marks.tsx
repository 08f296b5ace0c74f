/** @jsxRuntime automatic @jsxImportSource preact */

import type { VNode } from 'preact';
import { at } from '../../array.ts';
import { groundM } from './ground.ts';
import type { PlacedLabel, ProfileLayout } from './layout.ts';
import { LINE_PX, type ProfileDrawing, tenth } from './profile-drawing.ts';
import type { ProfileScales } from './scales.ts';

function LabelText({ label: { x, top, bold, plain } }: { readonly label: PlacedLabel }): VNode {
  return (
    <text class="label" text-anchor="middle">
      {[...bold, ...plain].map((line, n) => (
        <tspan
          x={tenth(x)}
          y={top + (n + 1) * LINE_PX - 3}
          font-weight={n < bold.length ? 'bold' : undefined}
        >
          {line}
        </tspan>
      ))}
    </text>
  );
}

interface MarksProps {
  readonly drawing: ProfileDrawing;
  readonly layout: ProfileLayout;
  readonly scales: ProfileScales;
}

/**
 * Marks with their labels. A leader goes straight down from its label, bends, and goes straight down to the ground: in
 * the order of the marks above and below, so that none crosses another. Where the height is not known it ends above.
 */
export function ProfileMarks({ drawing: { points, marks }, layout, scales }: MarksProps): VNode {
  const { labels, box, bendTop } = layout;
  return (
    <g class="marks">
      {labels.map((label, i) => {
        const mark = at(marks, i);
        const heightM = mark.heightM ?? groundM(points, mark.distanceM);
        const x = tenth(scales.x(mark.distanceM));
        const y = heightM === null ? box.top : tenth(scales.y(heightM));
        const start = label.top + (label.bold.length + label.plain.length) * LINE_PX + 3;
        return (
          <g>
            <path class="leader" d={`M${tenth(label.x)} ${start}V${bendTop}L${x} ${box.top - 4}V${y}`} />
            {heightM !== null && <circle cx={x} cy={y} r={3.5} />}
            <LabelText label={label} />
          </g>
        );
      })}
    </g>
  );
}
