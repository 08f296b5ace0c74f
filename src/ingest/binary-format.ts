import { EngineError } from '../errors.ts';
import { message } from '../message.ts';

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
export function refuseBinary(bytes: Uint8Array): void {
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
