import { cannotBeMet, type DayPlace, type DayPlan } from '../day/day-plan.ts';
import { clockOn } from '../text/words.ts';

/** How a clock time is shown on the sheet of a day. */
export type ClockText = (ms: number) => string;

/** Clock times of a day at its place. */
export const clockOf =
  ({ timeline }: DayPlan): ClockText =>
  (ms) =>
    clockOn(ms, timeline.zone, timeline.date);

export const NONE = '–';
const TOO_LATE = 'cannot be met';
const BESIDE = { storm: '', heat: ' (heat)', daylight: ' (light)', call: ' (home)' } as const;

/** "Turn back if not here by", the same on every page: with `(light)`, `(heat)` or `(home)` where it is not for storms. */
export function cutOffCell(
  place: Pick<DayPlace, 'cutOffMs' | 'cutOffReason' | 'at'>,
  clock: ClockText,
): string {
  if (place.cutOffMs === null) return NONE;
  if (cannotBeMet(place)) return TOO_LATE;
  return `${clock(place.cutOffMs)}${place.cutOffReason === null ? '' : BESIDE[place.cutOffReason]}`;
}

/** How the cells of {@link retreatCell} are read; `null` where none of them names a way. */
export const wayDownRead = (cells: readonly string[]): string | null =>
  cells.some((cell) => / (back|on)$/.test(cell))
    ? '“Back” after a time to start down: the way you came. “On”: on along the route. Neither is leave to climb until then: to go on up, the turn-back time counts.'
    : null;

/** "Start down from here by", and which way: the same on every page. */
export function retreatCell(
  place: Pick<DayPlace, 'kind' | 'retreatMs' | 'retreatWay' | 'goingUp' | 'at'>,
  clock: ClockText,
): string {
  // At treeline on the way up it would be the deadline itself, and read as leave to climb on until then; who is on the
  // way down has started already.
  if (place.retreatMs === null || place.kind === 'treelineUp' || !place.goingUp) return NONE;
  if (place.retreatMs < place.at.p10Ms) return TOO_LATE;
  return `${clock(place.retreatMs)} ${place.retreatWay === 'onward' ? 'on' : 'back'}`;
}
