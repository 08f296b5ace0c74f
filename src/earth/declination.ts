/** Where a compass points. The only file that knows geomagnetism. */
import geomagnetism from 'geomagnetism';
import { MS_PER_DAY } from '../units.ts';
import { checkPlace, type Place } from './geodesic.ts';
import { localTimeMs, rfc3339 } from './local-time.ts';

/*
 * World Magnetic Model 2025 (NOAA and BGS). The package also carries older models and picks one by the date without
 * a word, takes today where it gets no date, and answers NaN to an unreal one; so it is asked only within these days.
 * Its years have 365 days: at the end of 2028 it is a day's drift off, which is nothing here.
 */
const WMM = geomagnetism.model(new Date(Date.UTC(2026, 0, 1)));
const FIRST_MS = WMM.start_date.getTime();
const LAST_MS = WMM.end_date.getTime();
/** The model ends in the early hours of a day, so the day before is the last whole one. */
const LAST_VALID_DATE = rfc3339(LAST_MS - MS_PER_DAY, 'UTC').slice(0, 10);

// The model's horizontal field, nT, under which its makers warn of compasses (caution zone) and rule them out
// (blackout zone): WMM technical reports of 2020 and 2025, section on polar regions (from memory).
const CAUTION_BELOW_NT = 6000;
const BLACKOUT_BELOW_NT = 2000;

export interface Declination {
  /** From true north to magnetic north, degrees, east positive, -180 to 180. */
  readonly declinationDeg: number;
  /** One standard error of the model, degrees; iron in the rock or in a pocket can do far more. */
  readonly doubtDeg: number;
  /** Near the magnetic poles a needle is drawn down and hardly turns: `caution` may be wrong, `useless` is. */
  readonly compass: 'good' | 'caution' | 'useless';
  readonly model: string;
  /** Year the model starts from. */
  readonly epoch: number;
  /** Last whole day the model holds for, `YYYY-MM-DD`. */
  readonly lastValidDate: string;
}

/**
 * Magnetic declination of a place by the World Magnetic Model 2025; `null` on a day outside its validity, November
 * 2024 to November 2029. Elevation in metres above the sea, taken for the height above the ellipsoid (up to 100 m
 * off, nothing here); `null` is taken as sea level. A date `YYYY-MM-DD` means its noon UTC, a number ms since 1970.
 * Longitude may run past ±180°.
 * @example declination({ lonDeg: -30.2, latDeg: 46.1 }, 0, '2026-07-11')?.declinationDeg // -9.30
 * @throws RangeError on an unreal date, or where the latitude is not within ±90° or a number is not finite.
 */
export function declination(
  place: Place,
  elevationM: number | null,
  dateOrEpochMs: string | number,
): Declination | null {
  const epochMs =
    typeof dateOrEpochMs === 'string' ? localTimeMs(dateOrEpochMs, '12:00', 'UTC') : dateOrEpochMs;
  if (!Number.isFinite(epochMs)) throw new RangeError(`no declination at ${epochMs} ms`);
  const { lonDeg, latDeg } = place;
  checkPlace(place, 'declination');
  const heightM = elevationM ?? 0;
  if (!Number.isFinite(heightM)) throw new RangeError(`no declination at ${heightM} m above the sea`);
  if (epochMs < FIRST_MS || epochMs > LAST_MS) return null;
  // Latitude first, and kilometres.
  const field = geomagnetism.model(new Date(epochMs)).point([latDeg, lonDeg, heightM / 1000]);
  return {
    declinationDeg: field.decl,
    // Error model of the declination, H the horizontal field in nT, as in the makers' own software
    // (CIRES-Geomagnetism/wmm, uncertainty.py). The report of 2025 has 5417 (from memory); the larger is kept.
    doubtDeg: Math.hypot(0.26, 5625 / field.h),
    compass: field.h < BLACKOUT_BELOW_NT ? 'useless' : field.h < CAUTION_BELOW_NT ? 'caution' : 'good',
    model: WMM.name,
    epoch: WMM.epoch,
    lastValidDate: LAST_VALID_DATE,
  };
}

/**
 * The bearing to set on a compass, degrees from magnetic north, 0 up to 360, for a bearing from true north.
 * @example magneticBearingDeg(5, 9.5) // 355.5
 */
export function magneticBearingDeg(trueDeg: number, declinationDeg: number): number {
  const bearingDeg = (((trueDeg - declinationDeg) % 360) + 360) % 360;
  // A difference a hair below 0 comes back from the sum as 360 itself.
  return bearingDeg === 360 ? 0 : bearingDeg;
}
