import { open, stat } from 'node:fs/promises';

/** Ranges of a file's bytes, in the shape that geotiff's `fromSource` takes. */
export interface ByteRanges {
  readonly fileSize: number;
  /** Changes with the file: its size and time of change. */
  readonly version: string;
  /** Bytes from `offset`; throws where the range lies beyond the end. */
  read(offset: number, length: number): Promise<ArrayBuffer>;
  fetch(slices: readonly ByteRange[]): Promise<ArrayBuffer[]>;
  fetchSlice(slice: ByteRange): Promise<ByteRange & { readonly data: ArrayBuffer }>;
  close(): Promise<void>;
}

interface ByteRange {
  readonly offset: number;
  readonly length: number;
}

// geotiff reads headers in guesses of 1,024 or 4,048 bytes, which may run past the end of a small file.
// Anything longer is a claim of the file itself: refusing it here keeps a lying header from reserving gigabytes.
const LONGEST_GUESS_BYTES = 4096;

/**
 * A file whose bytes are read by range. The file is opened for each read and closed after it, so a
 * folder of thousands of tiles holds no handles; a file that was replaced in between is an error.
 */
export async function openByteRanges(path: string): Promise<ByteRanges> {
  const opened = await stat(path);
  const fileSize = opened.size;

  async function read(offset: number, length: number): Promise<ArrayBuffer> {
    const beyond = offset + length > fileSize;
    if (!(offset >= 0 && length >= 0) || (beyond && length > LONGEST_GUESS_BYTES)) {
      throw new Error(`bytes ${offset} to ${offset + length} lie beyond the end of the file (${fileSize})`);
    }
    const wanted = Math.max(0, Math.min(length, fileSize - offset));
    const bytes = new ArrayBuffer(wanted);
    const handle = await open(path, 'r');
    try {
      const now = await handle.stat();
      if (now.size !== fileSize || now.mtimeMs !== opened.mtimeMs)
        throw new Error('the file changed since it was opened');
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

  return {
    fileSize,
    version: `${fileSize}-${opened.mtimeMs}`,
    read,
    fetch: (slices) => Promise.all(slices.map((slice) => read(slice.offset, slice.length))),
    fetchSlice: async (slice) => ({ ...slice, data: await read(slice.offset, slice.length) }),
    close: async () => {},
  };
}
