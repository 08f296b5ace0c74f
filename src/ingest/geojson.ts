import { EngineError } from '../errors.ts';
import { type Message, message } from '../message.ts';
import { countNote, type Note, noteIf } from '../notes.ts';
import { latitudeOutOfRange, longitudeOutOfRange } from './coordinate.ts';
import { roundCoordinate } from './decimal.ts';
import { atPointer, isObject, parseJson } from './json-text.ts';
import { INGEST_LIMITS } from './limits.ts';
import { cleanName } from './names.ts';
import { nearestName } from './nearest-name.ts';
import { quote } from './quote.ts';
import type { RawFile, RawPoint, RawSegment, RawTrack } from './raw-track.ts';
import { ATTRIBUTE_NAMES, checkRouteAttributes } from './route-attributes.ts';

type JsonObject = Readonly<Record<string, unknown>>;

const OTHER_GEOMETRIES: readonly string[] = ['Point', 'MultiPoint', 'Polygon', 'MultiPolygon'];
const ALL_TYPES: readonly string[] = [
  'Feature',
  'FeatureCollection',
  'LineString',
  'MultiLineString',
  'GeometryCollection',
  ...OTHER_GEOMETRIES,
];

// Names of longitude/latitude on WGS 84, the one system of RFC 7946 section 4.
const WGS84_NAME = /^(?:urn:ogc:def:crs:OGC:(?:1\.3)?:CRS84|OGC:CRS84|(?:urn:ogc:def:crs:)?EPSG::?4326)$/i;

/**
 * Reads a GeoJSON text (RFC 7946): one route a line feature, or one for a bare geometry.
 * Times are `null`; heights are the third numbers as written.
 * @throws EngineError with a JSON Pointer.
 */
export function readGeoJson(text: string): RawFile {
  const root = parseJson(text, 'geojson-depth');
  if (!isObject(root)) {
    throw typeFault(
      '',
      'The file is a JSON list, not a GeoJSON object. Wrap the features in a FeatureCollection.',
    );
  }
  return new GeoJsonReading().read(root);
}

function typeFault(pointer: string, reason: string | Message): EngineError {
  return new EngineError('geojson-type', reason, { pointer });
}

/** Collects tracks, and counts what is left out on the way. */
class GeoJsonReading {
  private readonly tracks: RawTrack[] = [];
  private pointCount = 0;
  private readonly counts = {
    'feature-dropped': 0,
    'not-a-line-ignored': 0,
    'extra-numbers-ignored': 0,
    'longitude-normalised': 0,
  };
  private hasCrs = false;

  read(root: JsonObject): RawFile {
    this.checkCrs(root, '');
    switch (root.type) {
      case 'FeatureCollection':
        this.collection(root);
        break;
      case 'Feature':
        this.feature(root, '');
        break;
      case 'Topology':
        throw typeFault('/type', 'The file is TopoJSON, which is not read here. Export it as GeoJSON.');
      default:
        this.addTrack(this.geometry(root, '', 0), '', undefined);
    }
    if (this.tracks.length === 0) {
      const held = [
        ...(this.counts['not-a-line-ignored'] > 0
          ? [`${this.counts['not-a-line-ignored']} points or areas`]
          : []),
        ...(this.counts['feature-dropped'] > 0
          ? [`${this.counts['feature-dropped']} features without a geometry`]
          : []),
      ];
      throw new EngineError(
        'no-line',
        message`The file holds ${held.length === 0 ? 'no feature' : held.join(', ')} and no line. Export the route as a LineString.`,
      );
    }
    return { tracks: this.tracks, waypoints: [], name: null, notes: this.notes() };
  }

  private notes(): Note[] {
    return [
      ...Object.entries(this.counts).flatMap(([code, count]) =>
        countNote(code as keyof typeof this.counts, count),
      ),
      ...noteIf(this.hasCrs, { code: 'crs-member', values: {} }),
    ];
  }

  private collection(root: JsonObject): void {
    const { features } = root;
    if (!Array.isArray(features)) {
      throw typeFault('/features', 'A FeatureCollection needs a list at /features. Export the file again.');
    }
    for (const [index, feature] of features.entries()) {
      const pointer = `/features/${index}`;
      if (!isObject(feature) || feature.type !== 'Feature') {
        throw typeFault(pointer, message`The entry at ${pointer} must be an object of type "Feature".`);
      }
      this.checkCrs(feature, pointer);
      this.feature(feature, pointer);
    }
  }

  private feature(feature: JsonObject, pointer: string): void {
    const { geometry, properties } = feature;
    const at = `${pointer}/geometry`;
    if (geometry === null || geometry === undefined) {
      this.counts['feature-dropped'] += 1;
      return;
    }
    if (!isObject(geometry)) throw typeFault(at, message`The geometry at ${at} must be an object or null.`);
    this.checkCrs(geometry, at);
    this.addTrack(this.geometry(geometry, at, 0), pointer, properties);
  }

  private addTrack(segments: readonly RawSegment[], pointer: string, properties: unknown): void {
    if (segments.length === 0) return;
    const { name, attributes, notes } = readProperties(properties, `${pointer}/properties`);
    const limit = INGEST_LIMITS.routesPerFile;
    if (this.tracks.length >= limit) {
      throw new EngineError(
        'too-many-routes',
        message`The file holds more than ${limit} lines. Split it into files of at most ${limit}.`,
        { pointer, limit, found: this.tracks.length + 1 },
      );
    }
    this.tracks.push({
      pointer,
      name,
      kind: 'drawn',
      segments,
      attributes,
      times: { zoneUnknown: 0, unreadable: 0 },
      notes,
    });
  }

  private geometry(geometry: JsonObject, pointer: string, depth: number): RawSegment[] {
    const { type } = geometry;
    switch (type) {
      case 'LineString': {
        const line = this.line(geometry.coordinates, `${pointer}/coordinates`);
        if (line.points.length === 0) this.counts['feature-dropped'] += 1;
        return line.points.length === 0 ? [] : [line];
      }
      case 'MultiLineString': {
        const lines = listOf(geometry.coordinates, `${pointer}/coordinates`);
        if (lines.length === 0) this.counts['feature-dropped'] += 1;
        checkSegmentCount(lines.length, pointer);
        return lines.map((line, index) => this.line(line, `${pointer}/coordinates/${index}`));
      }
      case 'GeometryCollection':
        return this.geometries(geometry, pointer, depth);
      default:
        if (typeof type === 'string' && OTHER_GEOMETRIES.includes(type)) {
          this.counts['not-a-line-ignored'] += 1;
          return [];
        }
        throw unknownType(type, `${pointer}/type`);
    }
  }

  private geometries(collection: JsonObject, pointer: string, depth: number): RawSegment[] {
    if (depth > 0) {
      throw new EngineError(
        'geojson-depth',
        message`The geometry at ${pointer} is a GeometryCollection inside another. Write its lines as a MultiLineString.`,
        { pointer, limit: 1 },
      );
    }
    const at = `${pointer}/geometries`;
    const members = listOf(collection.geometries, at);
    const segments: RawSegment[] = [];
    for (const [index, member] of members.entries()) {
      if (!isObject(member))
        throw typeFault(`${at}/${index}`, message`The entry at ${at}/${index} must be a geometry.`);
      for (const segment of this.geometry(member, `${at}/${index}`, depth + 1)) segments.push(segment);
      checkSegmentCount(segments.length, pointer);
    }
    return segments;
  }

  private line(coordinates: unknown, pointer: string): RawSegment {
    const positions = listOf(coordinates, pointer);
    this.pointCount += positions.length;
    const limit = INGEST_LIMITS.pointsPerFile;
    if (this.pointCount > limit) {
      throw new EngineError(
        'too-many-points',
        message`The file holds more than ${limit} positions. Thin the line to one point every ${{ few: 'metres' }}, or split the file.`,
        { pointer, limit, found: this.pointCount },
      );
    }
    const pointPointer = (index: number): string => `${pointer}/${index}`;
    const points = positions.map((position, index) => this.position(position, pointPointer, index));
    return { pointer, pointPointer, points };
  }

  private position(position: unknown, pointPointer: (index: number) => string, index: number): RawPoint {
    if (!Array.isArray(position) || position.length < 2) {
      throw badPosition(
        pointPointer(index),
        'must be a list of longitude and latitude, such as [-30.2, 46.1].',
      );
    }
    const [lonDeg, latDeg, elevation] = position as unknown[];
    if (!isFiniteNumber(lonDeg)) throw badNumber(`${pointPointer(index)}/0`, lonDeg);
    if (!isFiniteNumber(latDeg)) throw badNumber(`${pointPointer(index)}/1`, latDeg);
    if (Math.abs(latDeg) > 90) throw latitudeOutOfRange(latDeg, lonDeg, `${pointPointer(index)}/1`);
    const limit = INGEST_LIMITS.longitudeMaxDeg;
    if (Math.abs(lonDeg) > limit) throw longitudeOutOfRange(lonDeg, `${pointPointer(index)}/0`);
    if (elevation !== undefined && elevation !== null && !isFiniteNumber(elevation)) {
      throw badNumber(`${pointPointer(index)}/2`, elevation);
    }
    if (position.length > 3) this.counts['extra-numbers-ignored'] += 1;
    let inRangeDeg = lonDeg;
    if (Math.abs(lonDeg) > 180) {
      this.counts['longitude-normalised'] += 1;
      inRangeDeg -= 360 * Math.sign(lonDeg);
    }
    return {
      lonDeg: roundCoordinate(inRangeDeg),
      latDeg: roundCoordinate(latDeg),
      elevationM:
        isFiniteNumber(elevation) && Math.abs(elevation) <= INGEST_LIMITS.elevationMaxAbsM
          ? elevation + 0
          : null,
      timeMs: null,
    };
  }

  /** The member of the GeoJSON of 2008: anything but WGS 84 would move the route, so nothing is guessed. */
  private checkCrs(holder: JsonObject, pointer: string): void {
    if (!Object.hasOwn(holder, 'crs') || holder.crs === null || holder.crs === undefined) return;
    const { crs } = holder;
    const properties = isObject(crs) ? crs.properties : undefined;
    const name = isObject(properties) ? properties.name : undefined;
    if (typeof name === 'string' && WGS84_NAME.test(name)) {
      this.hasCrs = true;
      return;
    }
    const named = typeof name === 'string' ? quote(name) : 'something that is not a name';
    throw new EngineError(
      'unsupported-crs',
      message`The "crs" at ${pointer}/crs is ${named}. Export in longitude and latitude on WGS 84 (EPSG:4326).`,
      { pointer: `${pointer}/crs` },
    );
  }
}

function isFiniteNumber(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}

function listOf(value: unknown, pointer: string): readonly unknown[] {
  if (Array.isArray(value)) return value;
  throw badPosition(pointer, 'must be a list. Export the file again.');
}

function badPosition(pointer: string, rest: string | Message): EngineError {
  return new EngineError('bad-coordinate', message`The coordinates at ${pointer} ${rest}`, { pointer });
}

function badNumber(pointer: string, value: unknown): EngineError {
  const shown =
    typeof value === 'string' ? quote(value) : typeof value === 'number' ? String(value) : typeof value;
  return badPosition(pointer, message`must be a finite number; found ${value === null ? 'null' : shown}.`);
}

function checkSegmentCount(found: number, pointer: string): void {
  const limit = INGEST_LIMITS.segmentsPerRoute;
  if (found > limit) {
    throw new EngineError(
      'too-many-segments',
      message`The line ${atPointer(pointer)} has more than ${limit} parts. Join them or split the file.`,
      { pointer, limit, found },
    );
  }
}

function unknownType(type: unknown, pointer: string): EngineError {
  if (typeof type !== 'string') {
    return typeFault(
      pointer,
      message`The "type" at ${pointer} is missing or no text. GeoJSON needs one of ${ALL_TYPES.join(', ')}.`,
    );
  }
  const meant = ALL_TYPES.find((known) => known.toLowerCase() === type.toLowerCase());
  const advice =
    meant === undefined
      ? `GeoJSON knows ${ALL_TYPES.join(', ')}.`
      : `Upper and lower case matter: write "${meant}".`;
  return typeFault(pointer, message`The type ${quote(type)} at ${pointer} is not known. ${advice}`);
}

type FeatureProperties = Pick<RawTrack, 'name' | 'attributes' | 'notes'>;

const NONE: FeatureProperties = { name: null, attributes: null, notes: [] };

/**
 * Picks the known fields out of a feature's `properties`; everything else is another program's and
 * is neither read nor stored. A name that is nearly a known one gets a note: a closure must not be
 * lost to a typing error.
 * @throws EngineError `bad-attribute`, `name-too-long` or `bad-text`.
 */
function readProperties(properties: unknown, pointer: string): FeatureProperties {
  if (properties === null || properties === undefined) return NONE;
  if (!isObject(properties)) {
    throw typeFault(pointer, message`The properties at ${pointer} must be an object or null.`);
  }
  const picked: Record<string, unknown> = {};
  for (const name of ATTRIBUTE_NAMES) {
    if (Object.hasOwn(properties, name)) picked[name] = properties[name];
  }
  const rawName = picked.name;
  const name = typeof rawName === 'string' ? cleanName(rawName, `${pointer}/name`) : null;
  // The schema counts before cleaning; the name has been counted after it.
  if (name !== null) picked.name = name;
  const notes = mistyped(properties, pointer);
  if (Object.keys(picked).length === 0) return { ...NONE, notes };
  return { name, attributes: checkRouteAttributes(picked, pointer), notes };
}

function mistyped(properties: JsonObject, pointer: string): Note[] {
  const notes: Note[] = [];
  let looked = 0;
  for (const key in properties) {
    if (ATTRIBUTE_NAMES.includes(key)) continue;
    looked += 1;
    // Enough for any table of attributes; a hostile one must not cost time.
    if (looked > 200 || notes.length >= 10) break;
    const near = key.length < 5 ? null : nearestName(key, ATTRIBUTE_NAMES, key.length < 8 ? 1 : 2);
    if (near !== null) {
      notes.push({ code: 'property-not-known', values: { property: quote(key), pointer, near } });
    }
  }
  return notes;
}
