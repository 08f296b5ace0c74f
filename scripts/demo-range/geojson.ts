import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import { degreesOf } from './frame.ts';
import type { Fix } from './receiver.ts';

/** One line as an RFC 7946 feature, what the coordinator knows in its properties. */
export function geojsonText(fixes: readonly Fix[], heights: boolean, attributes: RouteAttributes): string {
  const positions = fixes.map((fix) => {
    const { lonDeg, latDeg } = degreesOf(fix);
    const flat = `${lonDeg.toFixed(6)},${latDeg.toFixed(6)}`;
    return heights ? `[${flat},${fix.heightM.toFixed(1)}]` : `[${flat}]`;
  });
  const properties = JSON.stringify(attributes, null, 2);
  const geometry = `{ "type": "LineString", "coordinates": [\n${positions.join(',\n')}\n] }`;
  return `{ "type": "Feature",\n"properties": ${properties},\n"geometry": ${geometry} }\n`;
}
