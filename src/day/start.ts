import type { Design } from '../design.ts';
import { MS_PER_MIN } from '../units.ts';

const floorTo = (ms: number, stepMin: number): number =>
  Math.floor(ms / (stepMin * MS_PER_MIN)) * stepMin * MS_PER_MIN;
const ceilTo = (ms: number, stepMin: number): number =>
  Math.ceil(ms / (stepMin * MS_PER_MIN)) * stepMin * MS_PER_MIN;

/**
 * The earliest round start, ms since 1970: not before the hour stated, nor, without headlamps, before civil dawn.
 *
 * @param civilDawnMs `NaN`: there is none on the date
 */
export function earliestStart(
  statedMs: number,
  civilDawnMs: number,
  hasHeadlamps: boolean,
  stepMin: number,
): number {
  const dawnMs = hasHeadlamps || Number.isNaN(civilDawnMs) ? statedMs : civilDawnMs;
  return ceilTo(Math.max(statedMs, dawnMs), stepMin);
}

/** What a start has to keep, ms since 1970; `NaN`: there is no such limit. */
export interface StartLimits {
  readonly earliestMs: number;
  /** A start that nothing forces earlier. */
  readonly usualMs: number;
  /** The latest from which the ground above treeline is left in time, and no turn-back time is met on the way, nearly always. */
  readonly stormMs: number;
  /** The latest that is back by the usual hour, and that has a hot day's dawn. */
  readonly backMs: number;
  readonly heatMs: number;
  /** The latest that ends before dusk. */
  readonly duskMs: number;
  /** Where treeline is not known the storm window cannot be kept, only respected: by the earliest start. */
  readonly isTreelineKnown: boolean;
}

const boundMs = (limitMs: number): number => (Number.isNaN(limitMs) ? Number.POSITIVE_INFINITY : limitMs);

/** The latest round start that keeps every limit, but never before the earliest start. */
export function startWithin(limits: StartLimits, stepMin: number): number {
  const { earliestMs, usualMs, backMs, heatMs, stormMs, duskMs, isTreelineKnown } = limits;
  const cautiousMs = isTreelineKnown ? usualMs : Math.min(usualMs, earliestMs);
  const latestMs = Math.min(cautiousMs, ...[backMs, heatMs, stormMs, duskMs].map(boundMs));
  return Math.max(earliestMs, floorTo(latestMs, stepMin));
}

/** When the group wants to be at a trailhead: so long (design) before civil dusk; `null`: no dusk on that day. */
export const backByMs = (
  { civilDuskMs }: { readonly civilDuskMs: number | null },
  { beforeDuskMin }: Design['daylight'],
): number | null => (civilDuskMs === null ? null : civilDuskMs - beforeDuskMin * MS_PER_MIN);
