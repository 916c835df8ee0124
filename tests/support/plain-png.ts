import { crc32, deflateSync } from "node:zlib";

function chunk(name: string, content: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name, "latin1"), content]);
  const [length, checksum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(content.length);
  checksum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, checksum]);
}

/** A grey PNG (W3C PNG: 5.2, 11.2) of a size, px. */
export function plainPng(width: number, height: number): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.writeUInt8(8, 8);
  const lines = Buffer.alloc((width + 1) * height, 0x80);
  for (let row = 0; row < height; row += 1) lines.writeUInt8(0, row * (width + 1));
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", head),
    chunk("IDAT", deflateSync(lines)),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}
