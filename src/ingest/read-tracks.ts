import { at } from '../array.ts';
import { EngineError, inFileSync } from '../errors.ts';
import { message } from '../message.ts';
import { noteIf } from '../notes.ts';
import { decodeText } from './decode.ts';
import { readGeoJson } from './geojson.ts';
import { readGpx } from './gpx.ts';
import { INGEST_LIMITS } from './limits.ts';
import { distinctNames, nameFromFile, UNNAMED } from './names.ts';
import type { RawFile, RawTrack } from './raw-track.ts';
import { repairTrack } from './repair.ts';
import type { Track } from './track.ts';

export interface ReadOptions {
  /** As the sender names it; the content decides, this only words the error. */
  readonly mediaType?: string | null;
  /** Names routes that have no name of their own; never used as a path. */
  readonly fileName?: string | null;
}

/**
 * Reads a GPX or GeoJSON file: every route of it, checked and repaired, or none.
 *
 * @param fastestMs for the recording of an outing: a long step between two times stays in the line where it was covered
 * no faster, m/s. It may be a drive with few points, which `walksOf` cuts off; a candidate route with such a step is
 * refused.
 * @throws EngineError for everything that can be wrong with a file; the place names line and column,
 * element path, JSON Pointer or byte offset, and the file where `fileName` is given.
 */
export function readTracks(
  bytes: Uint8Array,
  options: ReadOptions = {},
  fastestMs: number | null = null,
): Track[] {
  const shownName = nameOf(options.fileName ?? null);
  const work = () => read(bytes, options, fastestMs);
  return shownName === null ? work() : inFileSync(shownName, work);
}

function read(
  bytes: Uint8Array,
  { mediaType = null, fileName = null }: ReadOptions,
  fastestMs: number | null,
): Track[] {
  const limit = INGEST_LIMITS.bodyBytes;
  if (bytes.length > limit) {
    throw new EngineError(
      'body-too-large',
      message`The file has ${bytes.length} bytes; at most ${limit} (10 MiB) are read. Thin or split the line.`,
      { limit, found: bytes.length },
    );
  }
  refuseBinary(bytes);
  const { text, notes } = decodeText(bytes);
  const file = readFormat(text, mediaType, fileName);
  const names = file.tracks.map((track) => trackName(track, file, fileName));
  const distinct = distinctNames(names);
  return file.tracks.map((track, index): Track => {
    const line = repairTrack(track, fastestMs);
    const isUnnamed = names[index] === UNNAMED && (track.name === null || track.name === '');
    return {
      name: at(distinct, index),
      segments: line.segments,
      waypoints: file.waypoints,
      attributes: track.attributes,
      notes: [
        ...noteIf(isUnnamed, { code: 'name-missing', values: { calledAs: UNNAMED } }),
        ...track.notes,
        ...line.notes,
        ...file.notes,
        ...notes,
      ],
    };
  });
}

/** A blank name says that there is none; without the element the file may know better. */
function trackName(track: RawTrack, file: RawFile, fileName: string | null): string {
  if (track.name !== null && track.name !== '') return track.name;
  if (track.name === '') return UNNAMED;
  return file.name ?? nameFromFile(fileName) ?? UNNAMED;
}

function readFormat(text: string, mediaType: string | null, fileName: string | null): RawFile {
  const start = text.search(/\S/);
  switch (start === -1 ? '' : text[start]) {
    case '':
      throw new EngineError('empty-body', 'The file is empty. Export the route again.');
    case '<':
      return readGpx(text);
    case '{':
    case '[':
      refuseTextSequence(text.slice(start));
      return readGeoJson(text);
    case '\u001e':
      throw lineByLine();
    default:
      throw neither(mediaType, fileName);
  }
}

/** Several JSON texts, one a line: each of them parses, the whole does not. */
function refuseTextSequence(text: string): void {
  const lineEnd = text.indexOf('\n');
  if (lineEnd === -1 || lineEnd > 100_000 || !/^\s*\{/.test(text.slice(lineEnd, lineEnd + 100))) return;
  try {
    JSON.parse(text.slice(0, lineEnd));
  } catch {
    return;
  }
  throw lineByLine();
}

function lineByLine(): EngineError {
  return new EngineError(
    'geojson-type',
    'The file holds one JSON text a line. Put the features into one FeatureCollection.',
  );
}

function neither(mediaType: string | null, fileName: string | null): EngineError {
  const hint = `${mediaType ?? ''} ${fileName ?? ''}`.toLowerCase();
  if (/json/.test(hint)) {
    return new EngineError(
      'json-malformed',
      'The file calls itself JSON but does not begin with { or [. Export the route again.',
      { line: 1, column: 1 },
    );
  }
  return new EngineError('not-gpx', 'The file is neither GPX (XML) nor GeoJSON. Export the route as GPX.');
}

/** The file's own name with its ending, for the place of an error. */
function nameOf(fileName: string | null): string | null {
  const base = (fileName ?? '').slice(-200).split(/[/\\]/).at(-1) ?? '';
  const shown = base.replace(/[\p{Cc}\p{Cf}\p{Cs}]/gu, '');
  return shown === '' ? null : shown;
}

interface Magic {
  readonly name: string;
  readonly at: number;
  readonly bytes: readonly number[];
  readonly compressed: boolean;
}

const ascii = (text: string): number[] => [...text].map((character) => character.charCodeAt(0));

// First bytes of each format as its own specification gives them (from memory).
const MAGIC: readonly Magic[] = [
  { name: 'a gzip file', at: 0, bytes: [0x1f, 0x8b], compressed: true },
  { name: 'a zip file', at: 0, bytes: [...ascii('PK'), 3, 4], compressed: true },
  { name: 'an empty zip file', at: 0, bytes: [...ascii('PK'), 5, 6], compressed: true },
  { name: 'a bzip2 file', at: 0, bytes: ascii('BZh'), compressed: true },
  { name: 'an xz file', at: 0, bytes: [0xfd, ...ascii('7zXZ'), 0], compressed: true },
  { name: 'a 7-Zip file', at: 0, bytes: [...ascii('7z'), 0xbc, 0xaf, 0x27, 0x1c], compressed: true },
  { name: 'a Zstandard file', at: 0, bytes: [0x28, 0xb5, 0x2f, 0xfd], compressed: true },
  { name: 'a PNG picture', at: 0, bytes: [0x89, ...ascii('PNG')], compressed: false },
  { name: 'a JPEG picture', at: 0, bytes: [0xff, 0xd8, 0xff], compressed: false },
  { name: 'a PDF document', at: 0, bytes: ascii('%PDF'), compressed: false },
  { name: 'a program', at: 0, bytes: [0x7f, ...ascii('ELF')], compressed: false },
  { name: 'a database', at: 0, bytes: ascii('SQLite format 3'), compressed: false },
  { name: 'a FIT file of a watch', at: 8, bytes: ascii('.FIT'), compressed: false },
  { name: 'an elevation tile', at: 0, bytes: [...ascii('II'), 42, 0], compressed: false },
  { name: 'an elevation tile', at: 0, bytes: [...ascii('MM'), 0, 42], compressed: false },
];

/**
 * Refuses files that are no text at all by their first bytes; nothing is ever unpacked.
 * @throws EngineError `compressed-not-supported` or `not-gpx`.
 */
function refuseBinary(bytes: Uint8Array): void {
  const magic = MAGIC.find(({ at, bytes: head }) => head.every((value, i) => bytes[at + i] === value));
  if (magic === undefined) return;
  if (magic.compressed) {
    throw new EngineError(
      'compressed-not-supported',
      message`The file is ${magic.name}. Unpack it and send the GPX or GeoJSON file inside.`,
    );
  }
  throw new EngineError(
    'not-gpx',
    message`The file is ${magic.name}, not GPX or GeoJSON. Export the route as GPX.`,
  );
}
