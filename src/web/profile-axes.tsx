/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { FONT_PX, LINE_PX, tenth } from './profile-frame.ts';
import type { Box, ProfileScales, Tick } from './profile-scales.ts';

/** A row of lengths below the plot with its unit at the end. */
function Lengths({
  ticks,
  unit,
  y,
  box,
}: {
  ticks: readonly Tick[];
  unit: string;
  y: number;
  box: Box;
}): VNode {
  return (
    <>
      {ticks.map(({ at, text }) => (
        <text x={tenth(at)} y={y} text-anchor="middle">
          {text}
        </text>
      ))}
      <text x={box.right + 12} y={y}>
        {unit}
      </text>
    </>
  );
}

function Heights({
  ticks,
  x,
  anchor,
}: {
  ticks: readonly Tick[];
  x: number;
  anchor: 'start' | 'end';
}): VNode {
  return (
    <>
      {ticks.map(({ at, text }) => (
        <text x={x} y={tenth(at + FONT_PX / 3)} text-anchor={anchor}>
          {text}
        </text>
      ))}
    </>
  );
}

/** Figures at the edges of the plot: kilometres and miles below, metres left, feet right. */
export function ProfileAxes({ scales, box }: { readonly scales: ProfileScales; readonly box: Box }): VNode {
  const { km, miles, metres, feet } = scales;
  return (
    <g class="axes">
      <Lengths ticks={km} unit="km" y={box.bottom + LINE_PX} box={box} />
      <Lengths ticks={miles} unit="miles" y={box.bottom + 2 * LINE_PX} box={box} />
      <Heights ticks={metres} x={box.left - 6} anchor="end" />
      <Heights ticks={feet} x={box.right + 6} anchor="start" />
    </g>
  );
}
