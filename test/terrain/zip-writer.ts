import { crc32, deflateRawSync } from 'node:zlib';

/**
 * A zip of deflated files by PKWARE's APPNOTE 4.3: outside the reader under test, so it can also state a size that is
 * not true.
 */
export function writeZip(
  entries: readonly (readonly [string, Buffer])[],
  statedSize: number | null = null,
): Buffer {
  const locals: Buffer[] = [];
  const central: Buffer[] = [];
  let at = 0;
  for (const [name, bytes] of entries) {
    const packed = deflateRawSync(bytes);
    const fields = Buffer.alloc(26);
    fields.writeUInt16LE(20, 0);
    fields.writeUInt16LE(8, 4);
    fields.writeUInt32LE(crc32(bytes), 10);
    fields.writeUInt32LE(packed.length, 14);
    fields.writeUInt32LE(statedSize ?? bytes.length, 18);
    fields.writeUInt16LE(name.length, 22);
    const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), fields, Buffer.from(name), packed]);
    const tail = Buffer.alloc(14);
    tail.writeUInt32LE(at, 10);
    central.push(
      Buffer.concat([Buffer.from('PK\x01\x02\x14\x00', 'latin1'), fields, tail, Buffer.from(name)]),
    );
    locals.push(local);
    at += local.length;
  }
  const directory = Buffer.concat(central);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 0, 'latin1');
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...locals, directory, end]);
}
