import type { Place } from '../earth/geodesic.ts';

const side = (deg: number, positive: string, negative: string): string => (deg < 0 ? negative : positive);

/** Longitudes may run past ±180 inside a track; people say them from -180 to 180. */
const turned = (lonDeg: number): number => ((((lonDeg + 180) % 360) + 360) % 360) - 180;

/** Decimal degrees to five places, about 1 m: `46.10510 N, 30.20340 W`. */
export function decimalDegreesText({ latDeg, lonDeg }: Place): string {
  const lon = turned(lonDeg);
  return `${Math.abs(latDeg).toFixed(5)} ${side(latDeg, 'N', 'S')}, ${Math.abs(lon).toFixed(5)} ${side(lon, 'E', 'W')}`;
}

function minutesText(deg: number): string {
  // Rounded before it is split, so that the minutes never read 60.
  const thousandths = Math.round(Math.abs(deg) * 60_000);
  const minutes = (thousandths % 60_000) / 1000;
  return `${Math.floor(thousandths / 60_000)}° ${minutes.toFixed(3).padStart(6, '0')}′`;
}

/** Degrees and decimal minutes to three places, about 2 m: `46° 06.306′ N, 30° 12.204′ W`. */
export function degreesMinutesText({ latDeg, lonDeg }: Place): string {
  const lon = turned(lonDeg);
  return `${minutesText(latDeg)} ${side(latDeg, 'N', 'S')}, ${minutesText(lon)} ${side(lon, 'E', 'W')}`;
}
