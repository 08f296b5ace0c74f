import type { DayPlace } from '../day/day-plan.ts';
import { cannotBeMet } from './day-views.ts';

/** How a clock time is shown on the sheet of a day. */
export type ClockText = (ms: number) => string;

const NONE = '–';
const TOO_LATE = 'cannot be met';

/** "Turn back if not here by", the same on every page: with `(light)` where it is not for storms. */
export function cutOffCell(
  place: Pick<DayPlace, 'cutOffMs' | 'cutOffReason' | 'at'>,
  clock: ClockText,
): string {
  if (place.cutOffMs === null) return NONE;
  if (cannotBeMet(place)) return TOO_LATE;
  return `${clock(place.cutOffMs)}${place.cutOffReason === 'daylight' ? ' (light)' : ''}`;
}

/** "Start down from here by", and which way: the same on every page. */
export function retreatCell(
  place: Pick<DayPlace, 'retreatMs' | 'retreatWay' | 'goingUp' | 'at'>,
  clock: ClockText,
): string {
  if (place.retreatMs === null) return NONE;
  if (place.retreatMs < place.at.p10Ms) return TOO_LATE;
  const way = place.goingUp ? ` ${place.retreatWay === 'onward' ? 'on' : 'back'}` : '';
  return `${clock(place.retreatMs)}${way}`;
}
