import { open, stat } from 'node:fs/promises';

/** A file's bytes, read by range. */
export interface ByteRanges {
  readonly fileSize: number;
  /** Changes with the file. */
  readonly version: string;
  /** Bytes from `offset`; a range that runs past the end is cut off there where it is no longer than a guess. */
  read(offset: number, length: number): Promise<ArrayBuffer>;
}

// geotiff reads headers in guesses of 1,024 or 4,048 bytes, which may run past the end of a small file.
// Anything longer is a claim of the file itself: refusing it here keeps a lying header from reserving gigabytes.
const LONGEST_GUESS_BYTES = 4096;

/** How many bytes of a range stand in the file. @throws Error where it lies beyond the end. */
export function lengthInside(offset: number, length: number, fileSize: number): number {
  const isBeyond = offset + length > fileSize;
  if (!(offset >= 0 && length >= 0) || (isBeyond && length > LONGEST_GUESS_BYTES))
    throw new Error(`bytes ${offset} to ${offset + length} lie beyond the end of the file (${fileSize})`);
  return Math.max(0, Math.min(length, fileSize - offset));
}

/** Size and time of change of a file. */
export const versionOf = ({ size, mtimeMs }: { readonly size: number; readonly mtimeMs: number }): string =>
  `${size}-${mtimeMs}`;

export const fileChanged = (): Error => new Error('the file changed since it was opened');

/**
 * A file whose bytes are read by range. The file is opened for each read and closed after it, so a
 * folder of thousands of tiles holds no handles; a file that was replaced in between is an error.
 */
export async function openByteRanges(path: string): Promise<ByteRanges> {
  const opened = await stat(path);
  const fileSize = opened.size;
  const version = versionOf(opened);

  async function read(offset: number, length: number): Promise<ArrayBuffer> {
    const wanted = lengthInside(offset, length, fileSize);
    const bytes = new ArrayBuffer(wanted);
    const handle = await open(path, 'r');
    try {
      if (versionOf(await handle.stat()) !== version) throw fileChanged();
      let done = 0;
      while (done < wanted) {
        const { bytesRead } = await handle.read(new Uint8Array(bytes, done), 0, wanted - done, offset + done);
        if (bytesRead === 0) throw new Error('the file ended early');
        done += bytesRead;
      }
    } finally {
      await handle.close();
    }
    return bytes;
  }

  return { fileSize, version, read };
}
