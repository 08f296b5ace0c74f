/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { FONT_PX, LINE_PX, tenth } from './frame.ts';
import type { Box, ProfileScales } from './scales.ts';

/** Figures at the edges of the plot: lengths below it with their unit at the end, heights left of it. */
export function ProfileAxes({ scales, box }: { readonly scales: ProfileScales; readonly box: Box }): VNode {
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
