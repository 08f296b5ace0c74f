/** The part of lerc 3.0.0 that is called; it brings no types of its own. */
declare module 'lerc' {
  interface LercImage {
    readonly width: number;
    readonly height: number;
    /** One array a band, in the blob's own kind of number. */
    readonly pixels: readonly {
      readonly length: number;
      readonly buffer: ArrayBuffer;
      readonly byteOffset: number;
    }[];
    /** 0 where a pixel is not valid; `null` or absent: all are. */
    readonly mask?: ArrayLike<number> | null;
  }
  const Lerc: { decode(input: ArrayBuffer): LercImage };
  export default Lerc;
}
