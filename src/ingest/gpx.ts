import type { Place } from '../earth/geodesic.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import type { Note } from '../notes.ts';
import { latitudeOutOfRange, longitudeOutOfRange, notANumber } from './coordinate.ts';
import { decimalHint, parseDecimal, roundCoordinate } from './decimal.ts';
import { chooseTracks } from './gpx-choice.ts';
import { INGEST_LIMITS } from './limits.ts';
import { cleanName } from './names.ts';
import { quote } from './quote.ts';
import type { RawFile, RawPoint, RawSegment, RawTrack } from './raw-track.ts';
import { readTime, type TimeTally } from './times.ts';
import type { Waypoint } from './track.ts';
import { htmlPage, walkXml, type XmlAttributes, type XmlVisitor } from './xml.ts';

const NAMESPACE = /^http:\/\/www\.topografix\.com\/GPX\/1\/[01]$/;
const NAMESPACE_1_0 = 'http://www.topografix.com/GPX/1/0';

/** What to say about other formats that are XML too. */
const OTHER_FORMATS: Readonly<Record<string, string>> = {
  kml: 'a KML file',
  trainingcenterdatabase: 'a TCX file',
  osm: 'an OpenStreetMap file',
  svg: 'a picture',
  loc: 'a LOC file',
};

/**
 * Reads a GPX 1.0 or 1.1 text: tracks, routes and waypoints, extensions and unknown elements skipped.
 * @throws EngineError with line and column (XML) or the element's path (`/trk[1]/trkseg[1]/trkpt[3]/@lat`).
 */
export function readGpx(text: string): RawFile {
  const reading = new GpxReading();
  return reading.finish(walkXml(text, reading));
}

function checkRoot(name: string): void {
  const local = localName(name).toLowerCase();
  if (local === 'gpx') return;
  if (local === 'html') throw htmlPage();
  const known = Object.hasOwn(OTHER_FORMATS, local) ? OTHER_FORMATS[local] : undefined;
  throw new EngineError(
    'not-gpx',
    message`The file is ${known ?? `XML with the root element ${quote(name)}`}, not GPX. Export the route as GPX or GeoJSON.`,
  );
}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

interface GrowingTrack {
  readonly pointer: string;
  readonly kind: RawTrack['kind'];
  readonly segments: RawSegment[];
  zoneUnknown: number;
  unreadable: number;
  name: string | null;
}

/** What a text belongs to; texts arrive in pieces where comments or CDATA split them. */
type TextTarget = 'ele' | 'time' | 'name' | null;

/** Builds tracks on the way through the file; knows which element it is in. */
class GpxReading implements XmlVisitor {
  /** Local names of the open elements, from the root at 1; '' for elements of another vocabulary. */
  private readonly path: string[] = [];
  /** Prefixes that stand for GPX, each with its colon; '' for none. */
  private readonly prefixes = new Set<string>();
  private readonly tracks: GrowingTrack[] = [];
  private readonly waypoints: { name: string; lonDeg: number; latDeg: number }[] = [];
  private readonly notes: Note[] = [];

  private trackCount = 0;
  private routeCount = 0;
  private waypointCount = 0;
  /** Points of the file, waypoints too; and the different ones of the track that is being read. */
  private pointCount = 0;
  private places = 0;
  private lastPlace: Place | null = null;
  private track: GrowingTrack | null = null;
  private segment: RawSegment | null = null;
  private point: RawPoint | null = null;
  private ele = '';
  private time = '';
  private fileName: string | null = null;
  private newerContent = false;
  private version10 = false;

  root(qualified: string): void {
    checkRoot(qualified);
  }

  open(qualified: string, depth: number, attributes: XmlAttributes): boolean {
    if (qualified === 'extensions') {
      this.newerContent = true;
      return false;
    }
    if (depth === 1) this.openRoot(qualified, attributes);
    const name = this.gpxName(qualified);
    this.path[depth] = name;
    const parent = this.path[depth - 1];
    if (depth === 2) {
      this.openTop(name, attributes);
      this.openText(depth);
    } else if (depth === 3 && name === 'trkseg' && parent === 'trk') this.openSegment('trkseg');
    else if (depth === 3 && name === 'rtept' && parent === 'rte') this.openPoint(attributes);
    else if (depth === 4 && name === 'trkpt' && parent === 'trkseg' && this.path[2] === 'trk') {
      this.openPoint(attributes);
    } else this.openText(depth);
    return true;
  }

  text(value: string, depth: number): void {
    switch (this.targetAt(depth)) {
      case 'ele':
        this.ele += value;
        break;
      case 'time':
        this.time += value;
        break;
      case 'name':
        this.nameText(value, depth);
        break;
      default:
    }
  }

  finish(undeclared: readonly string[]): RawFile {
    this.closePoint();
    if (undeclared.length > 0) {
      this.notes.push({
        code: 'undeclared-prefix',
        values: { prefix: quote(undeclared[0] ?? '') },
      });
    }
    if (this.version10 && this.newerContent) {
      this.notes.push({
        code: 'nonstandard-namespace',
        values: { found: 'newerElements' },
      });
    }
    const limit = INGEST_LIMITS.waypointsPerFile;
    if (this.waypointCount > limit) {
      this.notes.push({
        code: 'waypoints-dropped',
        values: { count: this.waypointCount, kept: limit },
      });
    }
    const tracks = this.tracks.map((track) => ({
      pointer: track.pointer,
      name: track.name === null ? null : cleanName(track.name, `${track.pointer}/name`),
      kind: track.kind,
      segments: track.segments,
      attributes: null,
      times: { zoneUnknown: track.zoneUnknown, unreadable: track.unreadable } satisfies TimeTally,
      notes: [],
    }));
    const waypoints = this.waypoints.map((point, index): Waypoint => {
      const name = cleanName(point.name, `/wpt[${index + 1}]/name`);
      return { name: name === '' ? null : name, lonDeg: point.lonDeg, latDeg: point.latDeg };
    });
    const name = this.fileName === null ? null : cleanName(this.fileName, '/metadata/name');
    const chosen = chooseTracks(tracks, this.waypointCount);
    return {
      tracks: chosen.tracks,
      waypoints,
      name: name === '' ? null : name,
      notes: [...this.notes, ...chosen.notes],
    };
  }

  private openRoot(qualified: string, attributes: XmlAttributes): void {
    const colon = qualified.indexOf(':');
    const prefix = colon === -1 ? '' : qualified.slice(0, colon + 1);
    this.prefixes.add(prefix);
    for (const [name, value] of Object.entries(attributes)) {
      if (name.startsWith('xmlns:') && NAMESPACE.test(value)) this.prefixes.add(`${name.slice(6)}:`);
    }
    const declared = prefix === '' ? 'xmlns' : `xmlns:${prefix.slice(0, -1)}`;
    const namespace = attributes[declared];
    this.version10 = namespace === NAMESPACE_1_0;
    if (namespace === undefined || !NAMESPACE.test(namespace) || localName(qualified) !== 'gpx') {
      this.notes.push({
        code: 'nonstandard-namespace',
        values: { found: 'otherNamespace' },
      });
    }
  }

  private gpxName(qualified: string): string {
    const nameAt = qualified.indexOf(':') + 1;
    return this.prefixes.has(qualified.slice(0, nameAt)) ? qualified.slice(nameAt) : '';
  }

  private openTop(name: string, attributes: XmlAttributes): void {
    if (name === 'trk') {
      this.trackCount += 1;
      this.openTrack('recorded', `/trk[${this.trackCount}]`, this.trackCount);
    } else if (name === 'rte') {
      this.routeCount += 1;
      this.openTrack('drawn', `/rte[${this.routeCount}]`, this.routeCount);
      this.openSegment('');
    } else if (name === 'wpt') {
      this.closePoint();
      this.waypointCount += 1;
      this.countPoint();
      const place = readPlace(attributes, `/wpt[${this.waypointCount}]`);
      if (this.waypointCount <= INGEST_LIMITS.waypointsPerFile) this.waypoints.push({ name: '', ...place });
    } else if (name === 'metadata') {
      this.newerContent = true;
    }
  }

  private openTrack(kind: RawTrack['kind'], pointer: string, count: number): void {
    this.closePoint();
    const limit = INGEST_LIMITS.routesPerFile;
    if (count > limit) {
      const what = kind === 'recorded' ? 'tracks' : 'routes';
      throw new EngineError(
        'too-many-routes',
        message`The file holds more than ${limit} ${what}. Split it into files of at most ${limit}.`,
        { pointer, limit, found: count },
      );
    }
    this.track = { pointer, kind, segments: [], zoneUnknown: 0, unreadable: 0, name: null };
    this.places = 0;
    this.lastPlace = null;
    this.tracks.push(this.track);
  }

  private openSegment(element: 'trkseg' | ''): void {
    this.closePoint();
    const { track } = this;
    if (track === null) return;
    const number = track.segments.length + 1;
    const pointer = element === '' ? track.pointer : `${track.pointer}/${element}[${number}]`;
    const limit = INGEST_LIMITS.segmentsPerRoute;
    if (number > limit) {
      throw new EngineError(
        'too-many-segments',
        message`The track at ${track.pointer} has more than ${limit} segments. Join them or split the file.`,
        { pointer, limit, found: number },
      );
    }
    const pointName = element === '' ? 'rtept' : 'trkpt';
    this.segment = {
      pointer,
      pointPointer: (index) => `${pointer}/${pointName}[${index + 1}]`,
      points: [],
    };
    track.segments.push(this.segment);
  }

  private openPoint(attributes: XmlAttributes): void {
    this.closePoint();
    const { segment } = this;
    if (segment === null) return;
    const pointer = (): string => segment.pointPointer(segment.points.length);
    const place = readPlace(attributes, pointer);
    this.countPoint();
    // One at the place of the one before it counts for the file alone, as in the repair.
    if (place.lonDeg !== this.lastPlace?.lonDeg || place.latDeg !== this.lastPlace.latDeg) this.places += 1;
    this.lastPlace = place;
    const limit = INGEST_LIMITS.pointsPerRoute;
    if (this.places > limit) throw tooManyPoints('track', limit);
    this.point = { lonDeg: place.lonDeg, latDeg: place.latDeg, elevationM: null, timeMs: null };
    segment.points.push(this.point);
  }

  private countPoint(): void {
    this.pointCount += 1;
    const limit = INGEST_LIMITS.pointsPerFile;
    if (this.pointCount > limit) throw tooManyPoints('file', limit);
  }

  private closePoint(): void {
    const { point, track } = this;
    if (point !== null && track !== null) {
      if (this.ele !== '') point.elevationM = plausibleElevationM(this.ele);
      if (this.time !== '') {
        const reading = readTime(this.time);
        if (reading.state === 'known') point.timeMs = reading.timeMs;
        else if (reading.state === 'zoneUnknown') track.zoneUnknown += 1;
        else if (this.time.trim() !== '') track.unreadable += 1;
      }
    }
    this.point = null;
    this.ele = '';
    this.time = '';
  }

  /** A second element of one name replaces the first. */
  private openText(depth: number): void {
    switch (this.targetAt(depth)) {
      case 'ele':
        this.ele = '';
        break;
      case 'time':
        this.time = '';
        break;
      case 'name':
        this.resetName(depth);
        break;
      default:
    }
  }

  private resetName(depth: number): void {
    const parent = depth === 2 ? 'file' : this.path[2];
    if (parent === 'file' || parent === 'metadata') this.fileName = null;
    else if ((parent === 'trk' || parent === 'rte') && this.track !== null) this.track.name = null;
  }

  private targetAt(depth: number): TextTarget {
    const name = this.path[depth];
    if (name === 'name') return depth === 2 || depth === 3 ? 'name' : null;
    if (name !== 'ele' && name !== 'time') return null;
    const parent = this.path[depth - 1];
    const inPoint = (depth === 5 && parent === 'trkpt') || (depth === 4 && parent === 'rtept');
    return inPoint && this.point !== null ? name : null;
  }

  private nameText(value: string, depth: number): void {
    const parent = depth === 2 ? 'file' : this.path[2];
    if (parent === 'file' || parent === 'metadata') this.fileName = (this.fileName ?? '') + value;
    else if (parent === 'trk' || parent === 'rte') {
      if (this.track !== null) this.track.name = (this.track.name ?? '') + value;
    } else if (parent === 'wpt' && this.waypointCount === this.waypoints.length) {
      const waypoint = this.waypoints.at(-1);
      if (waypoint !== undefined) waypoint.name += value;
    }
  }
}

function tooManyPoints(holder: string, limit: number): EngineError {
  return new EngineError(
    'too-many-points',
    message`The ${holder} holds more than ${limit} points. Thin the line to one point every ${{ few: 'metres' }}, or split it.`,
    { limit, found: limit + 1 },
  );
}

function readPlace(attributes: XmlAttributes, pointer: string | (() => string)): Place {
  const at = (name: string): string => `${typeof pointer === 'string' ? pointer : pointer()}/@${name}`;
  const latDeg = readDegrees(attributes, 'lat', at);
  if (Math.abs(latDeg) > 90) {
    const lonText = attributes.lon;
    throw latitudeOutOfRange(latDeg, lonText === undefined ? null : parseDecimal(lonText), at('lat'));
  }
  const lonDeg = readDegrees(attributes, 'lon', at);
  if (Math.abs(lonDeg) > 180) throw longitudeOutOfRange(lonDeg, 180, at('lon'));
  return { lonDeg: roundCoordinate(lonDeg), latDeg: roundCoordinate(latDeg) };
}

function readDegrees(attributes: XmlAttributes, name: 'lat' | 'lon', at: (name: string) => string): number {
  const text = attributes[name];
  const what = name === 'lat' ? 'latitude' : 'longitude';
  if (text === undefined) {
    throw new EngineError(
      'bad-coordinate',
      message`The ${what} at ${at(name)} is missing. Export the file again.`,
      {
        pointer: at(name),
      },
    );
  }
  const value = parseDecimal(text);
  if (value === null) throw notANumber(what, text, decimalHint(text), at(name));
  return value;
}

function plausibleElevationM(text: string): number | null {
  const value = parseDecimal(text);
  return value === null || Math.abs(value) > INGEST_LIMITS.elevationMaxAbsM ? null : value;
}
