/** @jsxRuntime automatic @jsxImportSource preact */
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import type { PacePicture } from '../capability/pace-picture.ts';
import { durationText, percentText } from '../text/words.ts';
import { MIN_PER_H } from '../units.ts';
import { tenth } from './profile/profile-drawing.ts';

const WIDTH = 720;
const HEIGHT = 420;
const BOX = { left: 56, right: WIDTH - 20, top: 16, bottom: HEIGHT - 54 };
/** Labels of days closer than this to one before go to its other side. */
const LABEL_HEIGHT = 15;

type Walk = PacePicture['walks'][number];

function hours(mostMin: number, count: number): number[] {
  const all = Math.floor(mostMin / MIN_PER_H);
  const step = Math.max(1, Math.ceil(all / count));
  return Array.from({ length: Math.floor(all / step) + 1 }, (_, i) => i * step);
}

export function paceWords({ walks, days }: PacePicture): string {
  const last = walks.at(-1);
  if (last === undefined) return '';
  const half = ({ p10, p50, p90 }: Walk['after']) => percentText((p90 - p10) / 2 / p50);
  return `A day that takes ${durationText(last.ruleMin)} by the rule takes this group ${durationText(last.after.p50)}, within ${half(last.after)} either way on eight days in ten; before any outing it was ${half(last.before)}. ${days.length === 0 ? 'No outing with a clock counts yet.' : 'The table says each outing.'}`;
}

/** The rule of the trade and what outings have made of it: grey and ink alone, every outing with its date. */
export function PaceChart({ picture }: { readonly picture: PacePicture }) {
  const { walks, days } = picture;
  const mostX = walks.at(-1)?.ruleMin ?? MIN_PER_H;
  const mostY = Math.max(
    ...walks.map(({ before, after }) => Math.max(before.p90, after.p90)),
    ...days.map(({ movingMin }) => movingMin),
  );
  const x = scaleLinear([0, mostX], [BOX.left, BOX.right]);
  const y = scaleLinear([0, mostY], [BOX.bottom, BOX.top]);
  const curve = (yOf: (walk: Walk) => number): string =>
    line<Walk>()
      .digits(1)
      .x(({ ruleMin }) => x(ruleMin))
      .y((walk) => y(yOf(walk)))([...walks]) ?? '';
  const band =
    area<Walk>()
      .digits(1)
      .x(({ ruleMin }) => x(ruleMin))
      .y0(({ after }) => y(after.p10))
      .y1(({ after }) => y(after.p90))([...walks]) ?? '';
  const spots = days.map(({ date, ruleMin, movingMin }) => ({ date, x: x(ruleMin), y: y(movingMin) }));
  return (
    <svg class="pace" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-labelledby="pace-title pace-words">
      <title id="pace-title">Walking time against the time by the rule</title>
      <desc id="pace-words">{paceWords(picture)}</desc>
      <path class="band" d={band} />
      <path class="prior" d={curve(({ before }) => before.p10)} />
      <path class="prior" d={curve(({ before }) => before.p90)} />
      <path class="rule-line" d={curve(({ before }) => before.p50)} />
      <path class="middle" d={curve(({ after }) => after.p50)} />
      <path class="axis" d={`M${BOX.left} ${BOX.top}V${BOX.bottom}H${BOX.right}`} />
      {hours(mostX, 8).map((hour) => (
        <text x={tenth(x(hour * MIN_PER_H))} y={BOX.bottom + 18} text-anchor="middle">
          {hour}
        </text>
      ))}
      {hours(mostY, 8).map((hour) => (
        <text x={BOX.left - 8} y={tenth(y(hour * MIN_PER_H) + 4)} text-anchor="end">
          {hour}
        </text>
      ))}
      <text x={(BOX.left + BOX.right) / 2} y={BOX.bottom + 42} text-anchor="middle">
        hours by the rule, stops not counted
      </text>
      <text transform={`translate(14 ${(BOX.top + BOX.bottom) / 2}) rotate(-90)`} text-anchor="middle">
        hours walked
      </text>
      {spots.map((spot, i) => {
        const isClose = spots
          .slice(0, i)
          .some((other) => Math.abs(other.y - spot.y) < LABEL_HEIGHT && Math.abs(other.x - spot.x) < 90);
        return (
          <g>
            <circle cx={tenth(spot.x)} cy={tenth(spot.y)} r="5" />
            <text
              class="day"
              x={tenth(spot.x + (isClose ? -10 : 10))}
              y={tenth(spot.y + 4)}
              text-anchor={isClose ? 'end' : 'start'}
            >
              {spot.date.slice(5)}
            </text>
          </g>
        );
      })}
    </svg>
  );
}

export const PACE_STYLE = `
.pace{display:block;width:100%;max-width:46rem;height:auto}
.pace text{font-size:13px;fill:currentColor}
.pace .day{font-weight:700;paint-order:stroke;stroke:var(--paper);stroke-width:3px}
.pace path{fill:none;stroke:currentColor;stroke-width:1.2}
.pace .band{fill:currentColor;fill-opacity:.16;stroke:none}
.pace .prior{stroke-dasharray:3 5}
.pace .rule-line{stroke-dasharray:9 5}
.pace .middle{stroke-width:2.6}
.pace circle{fill:var(--paper);stroke:currentColor;stroke-width:2}
@media screen and (max-width:40rem){.pace text{font-size:26px}.pace .day{font-size:22px}.pace circle{r:8px}}
@media (forced-colors:active){.pace text{fill:CanvasText}.pace path,.pace circle{stroke:CanvasText}.pace .day{stroke:Canvas}.pace circle{fill:Canvas}}
`;
