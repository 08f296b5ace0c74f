import type { WmsColumn } from './altitude.ts';

/** Sleeping higher matters from here, metres (WMS 2024). */
const FROM_M = 3000;
/** Sleeping gain of one night that is slow enough, and the climb after which an extra night is due, metres (WMS 2024). */
const SLOW_GAIN_M = 500;
const REST_EVERY_M = 1000;

/**
 * The risk column of the rate at which sleeping heights rose over the nights before a trip, in order; `null` where
 * none of them lies above 3,000 m or there are fewer than two. WMS 2024 (Luks et al., Wilderness Environ Med
 * 35(1S):2S-19S): low at most 500 m a night with an extra night for every 1,000 m, moderate faster with extra nights,
 * high faster without.
 */
export function ascentRateColumn(nightsM: readonly number[]): WmsColumn | null {
  let isFast = false;
  let hasRested = true;
  let sinceRestM = 0;
  let counted = false;
  nightsM.forEach((nightM, i) => {
    const beforeM = nightsM[i - 1];
    if (beforeM === undefined || nightM <= FROM_M) return;
    counted = true;
    const gainM = nightM - Math.max(beforeM, FROM_M);
    if (nightM <= beforeM) {
      sinceRestM = 0;
      return;
    }
    if (gainM > SLOW_GAIN_M) isFast = true;
    sinceRestM += gainM;
    if (sinceRestM > REST_EVERY_M) hasRested = false;
  });
  if (!counted) return null;
  if (isFast) return hasRested ? 'moderate' : 'high';
  // Slow, but without the extra nights: not the low column's rule.
  return hasRested ? 'low' : 'moderate';
}
