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

/** The latest round start within the earliest of several limits, but never before the earliest start. */
export function startWithin(earliestMs: number, limitMs: number, stepMin: number): number {
  return Math.max(earliestMs, floorTo(limitMs, stepMin));
}
