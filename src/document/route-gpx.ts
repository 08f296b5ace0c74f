/** A route for a receiver. The only file that writes XML. */
import { XMLBuilder } from 'fast-xml-parser';
import { azimuthDeg, destination, geodesicM, type Place } from '../earth/geodesic.ts';
import { roundCoordinate } from '../ingest/decimal.ts';
import { INGEST_LIMITS } from '../ingest/limits.ts';
import { cleanText, UNNAMED } from '../ingest/names.ts';
import { areTouching } from '../plan/line-gaps.ts';
import { attributionOf } from '../route/attribution.ts';
import type { RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { kindText, placeText } from '../text/place-words.ts';
import { heightText, lengthText } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';

type Position = readonly [number, number];

/**
 * Longest step written, metres: readers, ours too, take a longer one between close points for a bad fix. A longer leg
 * of a drawn line gets points between; it stays the same line.
 */
const LONGEST_STEP_M = INGEST_LIMITS.jumpM - 1;

/** A text that XML can hold, in one line and no longer than a name may be; the builder escapes it. */
function plainText(text: string): string {
  // XML has no way to write these: https://www.w3.org/TR/xml/#charsets
  const writable = text.replace(/[\p{Cs}\uFFFE\uFFFF]/gu, '');
  return [...cleanText(writable, '')].slice(0, INGEST_LIMITS.nameLength).join('').trim();
}

/** Degrees as xsd:decimal, never with an exponent: `-30.2034`. */
function degreesText(deg: number): string {
  return (roundCoordinate(deg) + 0).toFixed(INGEST_LIMITS.coordinateDecimals).replace(/\.?0+$/, '');
}

function attributesOf({ lonDeg, latDeg }: Place): { '@lat': string; '@lon': string } {
  const turns = Math.abs(lonDeg) > 180 ? Math.round(lonDeg / 360) : 0;
  return { '@lat': degreesText(latDeg), '@lon': degreesText(lonDeg - 360 * turns) };
}

/** The line's stretches; those that touch, as before an assumed way back, are one. */
function stretchesOf(line: Route['line']): Position[][] {
  const stretches: Position[][] = [];
  for (const segment of line) {
    const open = stretches.at(-1);
    if (open !== undefined && areTouching(open, segment)) {
      for (const position of segment.slice(1)) open.push(position);
    } else stretches.push([...segment]);
  }
  return stretches;
}

/** A stretch with points put into its long steps. */
function stepped(stretch: readonly Position[]): Place[] {
  const places: Place[] = [];
  for (const [lonDeg, latDeg] of stretch) {
    const to = { lonDeg, latDeg };
    const from = places.at(-1);
    const stepM = from === undefined ? 0 : geodesicM(from, to);
    const parts = Math.ceil(stepM / LONGEST_STEP_M);
    if (from !== undefined && parts > 1) {
      const bearingDeg = azimuthDeg(from, to);
      for (let k = 1; k < parts; k += 1) places.push(destination(from, bearingDeg, (stepM * k) / parts));
    }
    places.push(to);
  }
  return places;
}

function waypointOf(place: RoutePlace, atM: readonly number[], units: UnitSystem) {
  const { elevationM } = place;
  const name = plainText(placeText(place, units));
  const distances = atM.map((distanceM) => lengthText(distanceM, units)).join(' and ');
  const height = elevationM === null ? 'height not known' : heightText(elevationM, units);
  return {
    ...attributesOf(place),
    ...(elevationM === null ? {} : { ele: elevationM.toFixed(1) }),
    name: name === '' ? kindText(place, units) : name,
    desc: `${kindText({ ...place, elevationM: null }, units)}; ${height}; ${distances} from the start`,
  };
}

/** Nearer than this, two checkpoints of one name are one place met twice, metres (the reader's width of a path). */
const SAME_SPOT_M = 50;

/** Each place once, with all the distances at which it is passed. */
function spotsOf(checkpoints: readonly RoutePlace[], units: UnitSystem) {
  const spots: { readonly place: RoutePlace; readonly atM: number[] }[] = [];
  for (const place of checkpoints) {
    const known = spots.find(
      (spot) =>
        spot.place.kind === place.kind &&
        placeText(spot.place, units) === placeText(place, units) &&
        geodesicM(spot.place, place) < SAME_SPOT_M,
    );
    if (known === undefined) spots.push({ place, atM: [place.distanceM] });
    else known.atM.push(place.distanceM);
  }
  return spots;
}

/**
 * A route as GPX 1.1: its line, without times and heights, and its checkpoints as waypoints, one that is passed twice
 * once. Read again, the line has the same points (7 decimals) and stretches; a longitude beyond ±180° comes back by
 * whole turns. Steps of 500 m or more get points between them.
 */
export function routeGpx(
  route: Pick<Route, 'name' | 'line' | 'sources'>,
  checkpoints: readonly RoutePlace[],
  units: UnitSystem,
): string {
  const name = plainText(route.name);
  // Not cut to the length of a name: a licence fixes its words. Heights stand at the waypoints.
  const words = attributionOf([route])
    .map((text) => cleanText(text, ''))
    .join('; ');
  const titled = { name: name === '' ? UNNAMED : name };
  const builder = new XMLBuilder({
    ignoreAttributes: false,
    attributeNamePrefix: '@',
    // Left on, an attribute "true" would lose its value.
    suppressBooleanAttributes: false,
    suppressEmptyNode: true,
    processEntities: true,
    format: true,
    indentBy: ' ',
  });
  return builder.build({
    '?xml': { '@version': '1.0', '@encoding': 'UTF-8' },
    gpx: {
      '@version': '1.1',
      '@creator': 'Krummholz',
      '@xmlns': 'http://www.topografix.com/GPX/1/1',
      metadata: {
        ...titled,
        desc: 'A planned line. It says where the plan goes, not that the way is safe or still there.',
        ...(words === '' ? {} : { copyright: { '@author': words } }),
      },
      wpt: spotsOf(checkpoints, units).map(({ place, atM }) => waypointOf(place, atM, units)),
      trk: {
        ...titled,
        trkseg: stretchesOf(route.line).map((stretch) => ({ trkpt: stepped(stretch).map(attributesOf) })),
      },
    },
  });
}
