/** Bytes of each sample in the other order, in place. */
export function swapBytes(bytes: Uint8Array, bytesEach: number): void {
  const view = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytesEach === 2) view.swap16();
  else if (bytesEach === 4) view.swap32();
  else if (bytesEach === 8) view.swap64();
}

/**
 * Undoes predictor 2 (TIFF 6.0, section 14: each sample is the difference from the one before) in little-endian samples,
 * in place. Floats are added as the whole numbers that their bits are, as libtiff does.
 */
export function undoDifferences(bytes: Uint8Array, width: number, bytesEach: number): void {
  const { buffer, byteOffset, byteLength } = bytes;
  const count = byteLength / 4;
  if (bytesEach === 2) {
    const values = new Uint16Array(buffer, byteOffset, byteLength / 2);
    for (let row = 0; row < values.length; row += width) {
      let last = 0;
      for (let i = row; i < row + width; i += 1) {
        last = (last + (values[i] ?? 0)) & 0xffff;
        values[i] = last;
      }
    }
  } else if (bytesEach === 4) {
    const values = new Int32Array(buffer, byteOffset, count);
    for (let row = 0; row < count; row += width) {
      let last = 0;
      for (let i = row; i < row + width; i += 1) {
        last = (last + (values[i] ?? 0)) | 0;
        values[i] = last;
      }
    }
  } else {
    const values = new BigUint64Array(buffer, byteOffset, byteLength / 8);
    for (let row = 0; row < values.length; row += width)
      for (let i = row + 1; i < row + width; i += 1) values[i] = (values[i] ?? 0n) + (values[i - 1] ?? 0n);
  }
}

/**
 * Undoes predictor 3 (Adobe, TIFF Technical Note 3: a row's bytes apart by weight, heaviest first, each the difference
 * from the one before) in place; gives little-endian samples whatever the file's order.
 */
export function undoFloatDifferences(bytes: Uint8Array, width: number, bytesEach: number): void {
  const rowBytes = width * bytesEach;
  const row = new Uint8Array(rowBytes);
  const words = bytesEach === 4 ? new Int32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4) : null;
  for (let start = 0; start < bytes.length; start += rowBytes) {
    let last = 0;
    for (let i = 0; i < rowBytes; i += 1) {
      last = (last + (bytes[start + i] ?? 0)) & 0xff;
      row[i] = last;
    }
    if (words !== null) {
      const first = start / 4;
      for (let i = 0; i < width; i += 1)
        words[first + i] =
          ((row[i] ?? 0) << 24) |
          ((row[width + i] ?? 0) << 16) |
          ((row[2 * width + i] ?? 0) << 8) |
          (row[3 * width + i] ?? 0);
    } else {
      for (let i = 0; i < width; i += 1)
        for (let b = 0; b < bytesEach; b += 1)
          bytes[start + i * bytesEach + b] = row[(bytesEach - 1 - b) * width + i] ?? 0;
    }
  }
}
