import type { Place } from '../earth/geodesic.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { countNote, type Note, noteIf } from '../notes.ts';
import { latitudeOutOfRange, longitudeOutOfRange, noNumber } from './coordinate.ts';
import { parseDecimal, roundCoordinate } from './decimal.ts';
import { INGEST_LIMITS } from './limits.ts';
import { cleanName } from './names.ts';
import { quote } from './quote.ts';
import type { RawFile, RawPoint, RawSegment, RawTrack } from './raw-track.ts';
import { readTime } from './times.ts';
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

/** A text that grows: they arrive in pieces where comments or CDATA split them. `null`: no such element so far. */
interface GrowingText {
  value: string | null;
}

interface GrowingTrack extends Pick<RawTrack, 'pointer' | 'kind'> {
  readonly segments: RawSegment[];
  readonly name: GrowingText;
  readonly times: { zoneUnknown: number; unreadable: number };
}

/** Builds tracks on the way through the file; knows which element it is in. */
class GpxReading implements XmlVisitor {
  /** Local names of the open elements, from the root at 1; '' for elements of another vocabulary. */
  private readonly path: string[] = [];
  /** What the texts of the open elements belong to, by depth. */
  private readonly texts: (GrowingText | null)[] = [];
  /** Prefixes that stand for GPX, each with its colon; '' for none. */
  private readonly prefixes = new Set<string>();
  private readonly tracks: GrowingTrack[] = [];
  private readonly waypoints: (Place & { readonly name: GrowingText })[] = [];
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
  private readonly ele: GrowingText = { value: null };
  private readonly time: GrowingText = { value: null };
  private readonly fileName: GrowingText = { value: null };
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
    const isTrackPoint = depth === 4 && name === 'trkpt' && parent === 'trkseg' && this.path[2] === 'trk';
    if (depth === 2) this.openTop(name, attributes);
    else if (depth === 3 && name === 'trkseg' && parent === 'trk') this.openSegment('trkseg');
    else if (isTrackPoint || (depth === 3 && name === 'rtept' && parent === 'rte'))
      this.openPoint(attributes);
    const text = this.textOf(name, depth);
    this.texts[depth] = text;
    // A second element of one name replaces the first.
    if (text !== null) text.value = null;
    return true;
  }

  text(value: string, depth: number): void {
    const text = this.texts[depth] ?? null;
    if (text !== null) text.value = (text.value ?? '') + value;
  }

  finish(undeclared: readonly string[]): RawFile {
    this.closePoint();
    const [prefix] = undeclared;
    const kept = INGEST_LIMITS.waypointsPerFile;
    const tracks = this.tracks.map((track) => ({
      ...track,
      name: cleaned(track.name, `${track.pointer}/name`),
      attributes: null,
      notes: [],
    }));
    const waypoints = this.waypoints.map(({ name, ...place }, index): Waypoint => {
      return { ...place, name: cleaned(name, `/wpt[${index + 1}]/name`) || null };
    });
    const name = cleaned(this.fileName, '/metadata/name') || null;
    const chosen = chooseTracks(tracks, this.waypointCount);
    const notes = [
      ...this.notes,
      ...noteIf(prefix !== undefined, { code: 'undeclared-prefix', values: { prefix: quote(prefix ?? '') } }),
      ...noteIf(this.version10 && this.newerContent, {
        code: 'nonstandard-namespace',
        values: { found: 'newerElements' },
      }),
      ...noteIf(this.waypointCount > kept, {
        code: 'waypoints-dropped',
        values: { count: this.waypointCount, kept },
      }),
      ...chosen.notes,
    ];
    return { tracks: chosen.tracks, waypoints, name, notes };
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
    if (namespace === undefined || !NAMESPACE.test(namespace) || localName(qualified) !== 'gpx')
      this.notes.push({ code: 'nonstandard-namespace', values: { found: 'otherNamespace' } });
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
      const place = readPlace(attributes, () => `/wpt[${this.waypointCount}]`);
      if (this.waypointCount <= INGEST_LIMITS.waypointsPerFile)
        this.waypoints.push({ name: { value: null }, ...place });
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
    const times = { zoneUnknown: 0, unreadable: 0 };
    this.track = { pointer, kind, segments: [], name: { value: null }, times };
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
    const pointPointer = (index: number): string => `${pointer}/${pointName}[${index + 1}]`;
    this.segment = { pointer, pointPointer, points: [] };
    track.segments.push(this.segment);
  }

  private openPoint(attributes: XmlAttributes): void {
    this.closePoint();
    const { segment } = this;
    if (segment === null) return;
    const place = readPlace(attributes, () => segment.pointPointer(segment.points.length));
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
    const { point, track, ele, time } = this;
    if (point !== null && track !== null) {
      if (ele.value !== null) point.elevationM = plausibleElevationM(ele.value);
      const written = time.value ?? '';
      if (written.trim() !== '') {
        const reading = readTime(written);
        if (typeof reading === 'number') point.timeMs = reading;
        else track.times[reading] += 1;
      }
    }
    this.point = null;
    ele.value = null;
    time.value = null;
  }

  /** What the text of an element belongs to; `null`: nothing that is read. */
  private textOf(name: string, depth: number): GrowingText | null {
    if (name === 'name') {
      const holder = depth === 2 ? 'metadata' : depth === 3 ? this.path[2] : undefined;
      if (holder === 'metadata') return this.fileName;
      if (holder === 'trk' || holder === 'rte') return this.track?.name ?? null;
      const isKept = holder === 'wpt' && this.waypointCount === this.waypoints.length;
      return isKept ? (this.waypoints.at(-1)?.name ?? null) : null;
    }
    if ((name !== 'ele' && name !== 'time') || this.point === null) return null;
    const parent = this.path[depth - 1];
    const inPoint = (depth === 5 && parent === 'trkpt') || (depth === 4 && parent === 'rtept');
    return inPoint ? this[name] : null;
  }
}

const cleaned = ({ value }: GrowingText, pointer: string): string | null =>
  value === null ? null : cleanName(value, pointer);

function tooManyPoints(holder: string, limit: number): EngineError {
  return new EngineError(
    'too-many-points',
    message`The ${holder} holds more than ${limit} points. Thin the line to one point every ${{ few: 'metres' }}, or split it.`,
    { limit, found: limit + 1 },
  );
}

function readPlace(attributes: XmlAttributes, pointer: () => string): Place {
  const latDeg = readDegrees(attributes, 'lat', pointer);
  if (Math.abs(latDeg) > 90) {
    const lonText = attributes.lon;
    throw latitudeOutOfRange(
      latDeg,
      lonText === undefined ? null : parseDecimal(lonText),
      `${pointer()}/@lat`,
    );
  }
  const lonDeg = readDegrees(attributes, 'lon', pointer);
  if (Math.abs(lonDeg) > 180) throw longitudeOutOfRange(lonDeg, `${pointer()}/@lon`);
  return { lonDeg: roundCoordinate(lonDeg), latDeg: roundCoordinate(latDeg) };
}

function readDegrees(attributes: XmlAttributes, name: 'lat' | 'lon', pointer: () => string): number {
  const text = attributes[name];
  const value = text === undefined ? null : parseDecimal(text);
  if (value !== null) return value;
  throw noNumber(name === 'lat' ? 'latitude' : 'longitude', text, `${pointer()}/@${name}`);
}

function plausibleElevationM(text: string): number | null {
  const value = parseDecimal(text);
  return value === null || Math.abs(value) > INGEST_LIMITS.elevationMaxAbsM ? null : value;
}

/**
 * Which tracks and routes of a GPX file become routes: those without a line are left out beside others, and a
 * `rte` that may be the same walk as a `trk` of the file gives way to it.
 * @throws EngineError `no-line` where nothing is left, `too-many-routes`.
 */
function chooseTracks(
  all: readonly RawTrack[],
  waypointCount: number,
): { readonly tracks: readonly RawTrack[]; readonly notes: readonly Note[] } {
  const held = all.filter((track) => track.segments.some(({ points }) => points.length > 0));
  const lines = held.filter((track) => track.segments.some(({ points }) => points.length >= 2));
  // A stub of one point refuses a file only where nothing else is in it.
  const filled = lines.length > 0 ? lines : held;
  if (filled.length === 0) throw noLine(all.length, waypointCount);
  const recorded = filled.filter((track) => track.kind === 'recorded');
  const recordedNames = new Set(recorded.map((track) => track.name));
  const tracks = filled.filter(
    (track) =>
      track.kind === 'recorded' ||
      recorded.length === 0 ||
      // Without a name on either side the two cannot be told apart.
      (track.name !== null &&
        track.name !== '' &&
        !recordedNames.has(null) &&
        !recordedNames.has(track.name)),
  );
  const limit = INGEST_LIMITS.routesPerFile;
  if (tracks.length > limit) {
    throw new EngineError(
      'too-many-routes',
      message`The file holds ${tracks.length} tracks and routes. Split it into files of at most ${limit}.`,
      { limit, found: tracks.length },
    );
  }
  const notes = [
    ...countNote('track-dropped', all.length - filled.length),
    ...countNote('route-ignored', filled.length - tracks.length),
  ];
  return { tracks, notes };
}

function noLine(emptyTracks: number, waypointCount: number): EngineError {
  const held = [
    ...(waypointCount > 0 ? [`${waypointCount} ${waypointCount === 1 ? 'waypoint' : 'waypoints'}`] : []),
    ...(emptyTracks > 0 ? [`${emptyTracks} empty ${emptyTracks === 1 ? 'track' : 'tracks'}`] : []),
  ];
  const holds =
    held.length === 0 ? 'no track or route' : `${held.join(' and ')} and no track or route with points`;
  return new EngineError('no-line', message`The file holds ${holds}. Export the line itself.`);
}
