import { type ScaleLinear, scaleLinear } from 'd3-scale';
import { M_PER_FT, M_PER_MILE } from '../../units.ts';
import type { ProfileDrawing } from './profile-drawing.ts';

/** Heights are drawn over a range of at least this, so that flat ground looks flat (design). */
const LEAST_RANGE_M = 200;
/** A treeline farther than this from the ground of the day is not drawn (design). */
const TREELINE_REACH_M = 200;

const NUMBER = new Intl.NumberFormat('en', { maximumFractionDigits: 2 });

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Ticks of a scale in a unit of `unitM` metres; the last one names the unit, where one is given. */
function ticksIn(scale: ScaleLinear<number, number>, unitM: number, count: number, unit = '') {
  const other = scaleLinear(
    scale.domain().map((metres) => metres / unitM),
    scale.range(),
  );
  const ticks = other.ticks(count);
  return ticks.map((tick, i) => ({
    at: other(tick),
    text: `${NUMBER.format(tick)}${unit !== '' && i === ticks.length - 1 ? ` ${unit}` : ''}`,
  }));
}

/** Scales of a profile inside a box; `null`: no height is known, there is nothing to draw. */
export function profileScales({ points, treelineM, units }: ProfileDrawing, box: Box) {
  const isUs = units === 'us';
  const heights = points.map(([, heightM]) => heightM).filter((heightM) => heightM !== null);
  const endM = points.reduce((most, [distanceM]) => Math.max(most, distanceM), 0);
  if (heights.length < 2 || endM === 0) return null;
  const lowM = heights.reduce((least, heightM) => Math.min(least, heightM));
  const highM = heights.reduce((most, heightM) => Math.max(most, heightM));
  const isNear =
    treelineM !== null && treelineM > lowM - TREELINE_REACH_M && treelineM < highM + TREELINE_REACH_M;
  const drawn = isNear ? [lowM, highM, treelineM] : [lowM, highM];
  const [bottomM, topM] = [Math.min(...drawn), Math.max(...drawn)];
  const spareM = Math.max(0, LEAST_RANGE_M - (topM - bottomM)) / 2 + (topM - bottomM) / 20;
  const x = scaleLinear([0, endM], [box.left, box.right]);
  const y = scaleLinear([bottomM - spareM, topM + spareM], [box.bottom, box.top]);
  // Not known: nothing is shown as sheltered or open, the caption says why.
  const isAllAbove = treelineM !== null && treelineM < lowM;
  const across = Math.max(3, Math.round((box.right - box.left) / 70));
  return {
    x,
    y,
    /** `null`: not known, or too far away to be drawn. */
    treelineM: isNear ? treelineM : null,
    /** Ground is hatched from the top of the drawing down to here: none, all, or down to treeline. */
    hatchedTo: isNear ? y(treelineM) : isAllAbove ? box.bottom : 0,
    lengths: ticksIn(x, isUs ? M_PER_MILE : 1000, across),
    lengthUnit: isUs ? 'miles' : 'km',
    heights: isUs ? ticksIn(y, M_PER_FT, 4, 'ft') : ticksIn(y, 1, 4, 'm'),
  };
}

export type ProfileScales = NonNullable<ReturnType<typeof profileScales>>;
