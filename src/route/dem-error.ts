/**
 * Published vertical error of elevation tiles by their posting distance, root mean square, metres.
 * 1/3″: 1.55 (USGS OFR 2014-1008: 3.04 m at 95 %); 1″: 4.36 (SRTM against 138 M marks of the conterminous US,
 * a web study; GLO-30 4.35); 3″: 9.73 (SRTM specification, 16 m at 90 %, Sci. Rep. 2017).
 */
export function demErrorM(postingM: number): number {
  if (postingM <= 15) return 1.55;
  if (postingM <= 40) return 4.36;
  return 9.73;
}

/** The short part of a tile's error: half of its variance, as waves so many postings long (design; see the README). */
const WAVE_POSTINGS = 6;

/** Spread of the short part of a tile's error, and the length of its waves, metres. */
export function shortDemError(postingM: number): { readonly spreadM: number; readonly waveM: number } {
  return { spreadM: demErrorM(postingM) / Math.SQRT2, waveM: WAVE_POSTINGS * postingM };
}
