// A small zip archive, as programs write a .kmz.

import { crc32, deflateRawSync } from 'node:zlib';

/** files: [name, bytes] in their order. */
export function zipped(files) {
  const parts = [];
  const contents = [];
  let at = 0;
  for (const [name, bytes] of files) {
    const packed = deflateRawSync(bytes);
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0); // version 2.0
    common.writeUInt16LE(8, 4); // deflated
    common.writeUInt16LE((1 << 5) | 1, 8); // 1980-01-01
    common.writeUInt32LE(crc32(bytes), 10);
    common.writeUInt32LE(packed.length, 14);
    common.writeUInt32LE(bytes.length, 18);
    common.writeUInt16LE(Buffer.byteLength(name), 22);
    const local = Buffer.concat([Buffer.from('PK\x03\x04'), common, Buffer.from(name), packed]);
    const place = Buffer.alloc(14);
    place.writeUInt32LE(at, 10);
    contents.push(Buffer.concat([Buffer.from('PK\x01\x02'), Buffer.from([20, 0]), common, place, Buffer.from(name)]));
    parts.push(local);
    at += local.length;
  }
  const table = Buffer.concat(contents);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 'latin1');
  end.writeUInt16LE(files.length, 8);
  end.writeUInt16LE(files.length, 10);
  end.writeUInt32LE(table.length, 12);
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...parts, table, end]);
}
