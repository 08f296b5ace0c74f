import { html } from '../markup/words.tsx';
import type { CriterionName } from '../rank/criteria/index.ts';
import type { Fit } from '../rank/fit.ts';
import { isToCheck, questionText } from '../text/criteria/index.ts';
import { percentText } from '../text/words.ts';

export interface ReachMark {
  readonly name: CriterionName;
  /** Demand as a share of capacity; `null`: a question without numbers, or not known. */
  readonly ratio: number | null;
  /** `wish`: how the day wanted compares, which rules nothing out. */
  readonly met: 'yes' | 'no' | 'notKnown' | 'wish';
}

/** Geometry in CSS pixels; the lines below go by it too (design). */
const COLUMN = 25;
const BAR = 14;
const LEFT = 4;
/** Where the dashed line of what the group can do lies, and the ground. */
const LINE_Y = 26;
const GROUND_Y = 70;
const HEIGHT = 74;
/** Demand beyond so many times the capacity is cut off, with an open top. */
const MOST_RATIO = 1.5;
const NAMES_HEIGHT = 92;

const round = (value: number): number => Math.round(value * 10) / 10;
const yOf = (ratio: number): number => round(GROUND_Y - (GROUND_Y - LINE_Y) * ratio);
const xOf = (index: number): number => LEFT + index * COLUMN;

/** Hatching for what lies within reach, names of the columns: drawn once, used by every drawing of a page. */
export function ReachShapes({ names }: { readonly names: readonly CriterionName[] }) {
  return (
    <svg class="shapes" aria-hidden="true" focusable="false">
      <pattern id="within" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path d="M0 0V4" stroke="currentColor" stroke-width="1.3" />
      </pattern>
      <symbol id="reach-names" viewBox={`0 0 ${widthOf(names.length)} ${NAMES_HEIGHT}`}>
        {names.map((name, index) => (
          <text
            transform={`translate(${xOf(index) + BAR} ${NAMES_HEIGHT - 3})rotate(-62)`}
            font-size="12"
            fill="currentColor"
          >
            {questionText(name)}
          </text>
        ))}
      </symbol>
    </svg>
  );
}

const widthOf = (columns: number): number => LEFT + columns * COLUMN + 22;

/** The names of the columns, over the drawings of a list. */
export function ReachNames({ columns }: { readonly columns: number }) {
  const width = widthOf(columns);
  return html`
    <svg class="reach names" width="${width}" height="${NAMES_HEIGHT}" viewBox="${`0 0 ${width} ${NAMES_HEIGHT}`}" aria-hidden="true" focusable="false">
      <use href="#reach-names"></use>
    </svg>
  `;
}

export const marksOf = ({ judgements }: Pick<Fit, 'judgements'>): readonly ReachMark[] =>
  judgements.map((judgement) => {
    const { name, headroom, verdict } = judgement;
    const isMet = verdict === 'fits' || verdict === 'stretch';
    const isOpen = verdict === 'incomplete' || (isMet && isToCheck(judgement));
    const isWish = name === 'aim' && headroom !== null;
    return {
      name,
      ratio: headroom === null ? null : 1 / (1 + headroom),
      met: isWish ? 'wish' : isOpen ? 'notKnown' : isMet ? 'yes' : 'no',
    };
  });

/** The two greatest demands for what can be done: `climb 98 %, drive 95 %`; `null`: none is a number. */
export function closestText(marks: readonly ReachMark[]): string | null {
  const greatest = marks
    .flatMap(({ name, ratio }) => (ratio === null || name === 'aim' ? [] : [{ name, ratio }]))
    .sort((a, b) => b.ratio - a.ratio)
    .slice(0, 2);
  if (greatest.length === 0) return null;
  return greatest
    .map(({ name, ratio }) => {
      // A road that no vehicle manages has no share; where one does, seats are what is short.
      if (!Number.isFinite(ratio)) return `${questionText(name)} not met`;
      return `${name === 'roadAccess' ? 'seats' : questionText(name)} ${percentText(ratio)}`;
    })
    .join(', ');
}

const MET_TEXT = { yes: 'met', no: 'not met', notKnown: 'not known', wish: 'not known' } as const;

const markText = ({ name, ratio, met }: ReachMark): string =>
  `${questionText(name)} ${ratio === null ? MET_TEXT[met] : percentText(ratio)}${met === 'wish' ? ' of the day wanted' : ''}`;

export const reachText = (marks: readonly ReachMark[]): string =>
  `Demand as a share of what the group can do: ${marks.map(markText).join(', ')}.`;

/**
 * What a route asks, against what the group can do, for all criteria at once: a column for each, and across them one
 * dashed line that stands for what the group can do. What lies below the line is hatched, what rises beyond it solid.
 * A ring at the foot: met, with nothing to measure. A cross: not met. A dotted frame: not known. An empty column: how
 * the day compares with the one wanted.
 */
export function Reach({ marks }: { readonly marks: readonly ReachMark[] }) {
  const paths: Record<string, string> = { w: '', b: '', o: '', u: '', a: '', r: '', x: '' };
  marks.forEach(({ ratio, met }, index) => {
    const x = xOf(index);
    const middle = x + BAR / 2;
    const add = (part: string, path: string) => {
      paths[part] += path;
    };
    /** Up from one height to a ratio, and down again. */
    const column = (fromY: number, upTo: number) => `M${x} ${fromY}V${yOf(upTo)}h${BAR}V${fromY}`;
    const cross = `M${x + 2} ${LINE_Y - 15}l10 10m0 -10l-10 10`;
    if (ratio === null) {
      if (met === 'yes') add('r', `M${middle - 3} ${GROUND_Y - 4}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0`);
      else if (met === 'no') add('x', cross);
      else add('u', column(GROUND_Y, 1));
      return;
    }
    if (met === 'wish') {
      add('a', column(GROUND_Y, Math.min(ratio, MOST_RATIO)));
      return;
    }
    add('w', `${column(GROUND_Y, Math.min(ratio, 1))}z`);
    if (ratio > 1) add('b', `${column(LINE_Y, Math.min(ratio, MOST_RATIO))}z`);
    if (ratio > MOST_RATIO) add('o', `M${x} ${yOf(MOST_RATIO) + 3}l7 -5l7 5`);
    if (met === 'no' && ratio <= 1) add('x', cross);
    if (met === 'notKnown') add('u', `M${x} ${LINE_Y - 3}V${LINE_Y - 15}h${BAR}v12`);
  });
  const width = widthOf(marks.length);
  const end = xOf(marks.length);
  return html`
    <svg class="reach" width="${width}" height="${HEIGHT}" viewBox="${`0 0 ${width} ${HEIGHT}`}" role="img" aria-label="${reachText(marks)}">
      ${Object.entries(paths).map(([name, d]) => d !== '' && html`<path class="${name}" d="${d}"></path>`)}
      <path class="l" d="M0 ${LINE_Y}H${end}"></path>
      <path class="g" d="M0 ${GROUND_Y}H${end}"></path>
    </svg>
  `;
}

export const REACH_STYLE = `
.reach{display:block;max-width:100%;height:auto;overflow:visible}
@media (min-width:52.01rem){.shortlist .reach{max-width:none}}
.reach use,symbol{overflow:visible}
.reach .w{fill:url(#within);stroke:currentColor;stroke-width:1}
.reach .b,.reach .o{fill:currentColor;stroke:currentColor;stroke-width:1}
.reach .o{stroke:var(--paper);stroke-width:2;fill:none}
.reach .u{fill:none;stroke:currentColor;stroke-width:1.2;stroke-dasharray:2 2}
.reach .a{fill:none;stroke:currentColor;stroke-width:1}
.reach .r{fill:none;stroke:currentColor;stroke-width:1.3}
.reach .x{fill:none;stroke:currentColor;stroke-width:2.4}
.reach .l{stroke:var(--contour);stroke-width:1.6;stroke-dasharray:6 3}
.reach .g{stroke:currentColor;stroke-width:1}
`;
