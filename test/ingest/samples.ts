import { EngineError } from '../../src/errors.ts';
import { type ReadOptions, readTracks } from '../../src/ingest/read-tracks.ts';
import type { Track } from '../../src/ingest/track.ts';

export const GPX_NS = 'xmlns="http://www.topografix.com/GPX/1/1"';

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

export const read = (text: string, options?: ReadOptions): Track[] => readTracks(bytesOf(text), options);

/** The one route of a file. */
export function readOne(text: string, options?: ReadOptions): Track {
  const [track, ...more] = read(text, options);
  if (track === undefined || more.length > 0) throw new Error(`expected one track, got ${more.length + 1}`);
  return track;
}

export const codes = (track: Track): string[] => track.notes.map((note) => note.code);

/** What a call throws; fails where it throws nothing or anything but an EngineError. */
export function caught(call: () => unknown): EngineError {
  try {
    call();
  } catch (error) {
    if (error instanceof EngineError) return error;
    throw error;
  }
  throw new Error('expected an EngineError, nothing was thrown');
}

export const refused = (text: string, options?: ReadOptions): EngineError =>
  caught(() => read(text, options));

export const trkpt = (lat: number | string, lon: number | string, inner = ''): string =>
  `<trkpt lat="${lat}" lon="${lon}">${inner}</trkpt>`;

/** A walk north from 46.1 N, 30.2 W: a point every 22 m or so. */
export const walk = (count = 60, startLat = 46.1): string =>
  Array.from({ length: count }, (_, i) => trkpt((startLat + i * 0.0002).toFixed(4), -30.2)).join('');

export const seg = (points: string): string => `<trkseg>${points}</trkseg>`;
export const trk = (inner: string): string => `<trk>${inner}</trk>`;
export const gpx = (inner: string): string =>
  `<?xml version="1.0"?><gpx version="1.1" ${GPX_NS}>${inner}</gpx>`;

/** A whole file with one track of these points. */
export const gpxOf = (points: string, name = '<name>West Ridge</name>'): string =>
  gpx(trk(name + seg(points)));

/** The same walk as GeoJSON positions. */
export const positions = (count = 60): number[][] =>
  Array.from({ length: count }, (_, i) => [-30.2, Number((46.1 + i * 0.0002).toFixed(4))]);

export const line = (coordinates: unknown = positions()): object => ({ type: 'LineString', coordinates });
export const feature = (geometry: unknown, properties: unknown = null): object => ({
  type: 'Feature',
  properties,
  geometry,
});
export const collection = (...features: unknown[]): object => ({ type: 'FeatureCollection', features });
