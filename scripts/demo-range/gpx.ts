import { degreesOf, type Spot } from './frame.ts';
import type { Fix } from './receiver.ts';

/** A named spot beside the line. */
export interface NamedSpot {
  readonly name: string;
  readonly spot: Spot;
}

/** What goes into one GPX file; `times` in milliseconds, one a fix, where the walk had a clock. */
export interface GpxContent {
  readonly name: string;
  readonly fixes: readonly Fix[];
  readonly kind: 'track' | 'route';
  readonly heights: boolean;
  readonly waypoints: readonly NamedSpot[];
  readonly times: readonly number[] | null;
}

const escapeXml = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/** Position to six decimals: 0.1 m. */
function position(spot: Spot): string {
  const { lonDeg, latDeg } = degreesOf(spot);
  return `lat="${latDeg.toFixed(6)}" lon="${lonDeg.toFixed(6)}"`;
}

/** A GPX 1.1 file with one track or one route. */
export function gpxText(content: GpxContent): string {
  const tag = content.kind === 'track' ? 'trkpt' : 'rtept';
  const points = content.fixes.map((fix, k) => {
    const height = content.heights ? `<ele>${fix.heightM.toFixed(1)}</ele>` : '';
    const timeMs = content.times?.[k];
    const time = timeMs === undefined ? '' : `<time>${new Date(timeMs).toISOString().slice(0, 19)}Z</time>`;
    const inside = height + time;
    return inside === '' ? `<${tag} ${position(fix)}/>` : `<${tag} ${position(fix)}>${inside}</${tag}>`;
  });
  const name = `<name>${escapeXml(content.name)}</name>`;
  const line =
    content.kind === 'track'
      ? ['<trk>', name, '<trkseg>', ...points, '</trkseg>', '</trk>']
      : ['<rte>', name, ...points, '</rte>'];
  const beside = content.waypoints.map(
    (waypoint) => `<wpt ${position(waypoint.spot)}><name>${escapeXml(waypoint.name)}</name></wpt>`,
  );
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx version="1.1" creator="demo range" xmlns="http://www.topografix.com/GPX/1/1">',
    ...beside,
    ...line,
    '</gpx>',
    '',
  ].join('\n');
}
