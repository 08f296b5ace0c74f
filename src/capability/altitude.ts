import { DESIGN, type Design } from '../design.ts';

/** Where the cubic below turns up again; higher up its lowest value holds. */
const CUBIC_LOWEST_KM = 6.52;

/**
 * Share of sea-level aerobic capacity that an unacclimatised person has at this elevation, 0 to 1; 1 at or below 0 m.
 * Bassett et al. 1999, Med Sci Sports Exerc 31:1665, coefficients from memory; a test holds the curve to the −26 %
 * at 4,000 m that Buskirk et al. 1967 printed, within 3 points.
 */
export function aerobicFraction(elevationM: number): number {
  const x = Math.max(0, Math.min(CUBIC_LOWEST_KM, elevationM / 1000));
  return Math.min(1, (0.178 * x ** 3 - 1.43 * x ** 2 - 4.07 * x + 100) / 100);
}

/**
 * How many times longer climbing takes at this elevation than where the group trained, never below 1 (design: pace
 * taken as proportional to aerobic capacity). No peer-reviewed curve of hiking speed against altitude is known to us.
 * Descents have no such penalty.
 */
export function uphillFactor(elevationM: number, trainingElevationM: number): number {
  return Math.max(1, aerobicFraction(trainingElevationM) / aerobicFraction(elevationM));
}

export type AltitudeHistory = 'none' | 'mild' | 'severe' | 'hapeHace';
export type WmsColumn = 'low' | 'moderate' | 'high';

export interface AltitudeQuestion {
  /** Where the group sleeps the night before: this counts, not the summit. */
  readonly sleepElevationM: number;
  /** The worst that anyone going has had: acute mountain sickness, or oedema of lung or brain (HAPE, HACE). */
  readonly history: AltitudeHistory;
  readonly summitM: number;
  /** Elevation where the group lives; `null`, not known, counts as low-lying. */
  readonly homeM: number | null;
  /** Sleeping heights of the nights before, in order; `null` or empty where not stated. */
  readonly nightsM?: readonly number[] | null;
  /** Whether minors go, or may; missing: none do. */
  readonly isMinor?: boolean;
}

export type AltitudeGround =
  | { readonly by: 'sleep'; readonly sleepM: number }
  | { readonly by: 'history'; readonly history: AltitudeHistory }
  /** `homeM` `null`: not known. */
  | { readonly by: 'summit'; readonly summitM: number; readonly homeM: number | null }
  /** `riseM` above the bed in a day: for minors. */
  | { readonly by: 'rise'; readonly riseM: number }
  /** Nights rising by more than `slowGainM`, or without an extra night for each `restEveryM`. */
  | ({ readonly by: 'ascent'; readonly column: WmsColumn } & Readonly<typeof ASCENT>);

/** The three columns in rising order, so that the higher can be taken. */
export const WMS_COLUMNS: readonly WmsColumn[] = ['low', 'moderate', 'high'];

const HISTORY_COLUMN: Record<AltitudeHistory, WmsColumn> = {
  none: 'low',
  mild: 'low',
  severe: 'moderate',
  hapeHace: 'high',
};

/** The column of a group before any route: its history and the rate at which its nights rose. */
export function columnOfGroup(history: AltitudeHistory, nightsM: readonly number[] | null): WmsColumn {
  const rate = ascentRateColumn(nightsM ?? []) ?? 'low';
  const column = HISTORY_COLUMN[history];
  return WMS_COLUMNS.indexOf(rate) > WMS_COLUMNS.indexOf(column) ? rate : column;
}

export function columnOfSleep(sleepM: number, limits: Design['altitude']): WmsColumn {
  return sleepM > limits.highSleepM ? 'high' : sleepM < limits.lowSleepM ? 'low' : 'moderate';
}

/** Whether an illness before counts on a day that goes so high: it begins above a height (WMS 2024). */
export const countsHistory = (highM: number, limits: Design['altitude']): boolean =>
  highM > limits.historyFromM;

/** Whether a top so far above the bed is at least a moderate risk for minors (design). */
export const isLongRise = (highM: number, sleepM: number, limits: Design['altitude']): boolean =>
  highM - sleepM > limits.minorsRiseM;

/** Whether a day's summit is at least a moderate risk by itself (design); `homeM` `null` counts as low-lying. */
export function isHighSummit(summitM: number, homeM: number | null, limits: Design['altitude']): boolean {
  return summitM > limits.highSummitM && (homeM === null || homeM < limits.lowHomeM);
}

/**
 * The risk column of altitude illness for unacclimatised people; the highest column that anything reaches decides,
 * and `grounds` are what reached it. An aid to planning, not a medical judgement.
 *
 * Wilderness Medical Society 2024 (Luks, Beidleman, Freer et al., Wilderness Environ Med 35(1S):2S-19S): history and
 * sleeping elevation, from below 1,200 m. Ours (design): a summit of a day trip over 3,500 m, and for minors one of over
 * 2,500 m above the bed, is at least moderate.
 */
export function wmsColumn(
  { sleepElevationM, history, summitM, homeM, nightsM, isMinor = false }: AltitudeQuestion,
  limits: Design['altitude'] = DESIGN.altitude,
): { readonly column: WmsColumn; readonly grounds: readonly AltitudeGround[] } {
  const rate = ascentRateColumn(nightsM ?? []);
  const findings: [WmsColumn, AltitudeGround][] = [
    [columnOfSleep(sleepElevationM, limits), { by: 'sleep', sleepM: sleepElevationM }],
  ];
  const counted = countsHistory(summitM, limits) ? history : 'none';
  findings.push([HISTORY_COLUMN[counted], { by: 'history', history: counted }]);
  if (isMinor && isLongRise(summitM, sleepElevationM, limits)) {
    findings.push(['moderate', { by: 'rise', riseM: summitM - sleepElevationM }]);
  }
  if (isHighSummit(summitM, homeM, limits)) findings.push(['moderate', { by: 'summit', summitM, homeM }]);
  if (rate !== null) {
    findings.push([rate, { by: 'ascent', column: rate, ...ASCENT }]);
  }
  const column = WMS_COLUMNS.findLast((wanted) => findings.some(([found]) => found === wanted)) ?? 'low';
  return { column, grounds: findings.flatMap(([found, ground]) => (found === column ? [ground] : [])) };
}

/** Sleeping higher matters from here, metres (WMS 2024). */
const FROM_M = 3000;
/** Sleeping gain of one night that is slow enough, and the climb after which an extra night is due, metres (WMS 2024). */
const ASCENT = { slowGainM: 500, restEveryM: 1000 };

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
  let isCounted = false;
  nightsM.forEach((nightM, i) => {
    const beforeM = nightsM[i - 1];
    if (beforeM === undefined || nightM <= FROM_M) return;
    isCounted = true;
    const gainM = nightM - Math.max(beforeM, FROM_M);
    if (nightM <= beforeM) {
      sinceRestM = 0;
      return;
    }
    if (gainM > ASCENT.slowGainM) isFast = true;
    sinceRestM += gainM;
    if (sinceRestM > ASCENT.restEveryM) hasRested = false;
  });
  if (!isCounted) return null;
  if (isFast) return hasRested ? 'moderate' : 'high';
  // Slow, but without the extra nights: not the low column's rule.
  return hasRested ? 'low' : 'moderate';
}
