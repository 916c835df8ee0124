import { type FileHandle, open } from "node:fs/promises";
import { pipeline } from "node:stream/promises";
import { crc32, createInflateRaw } from "node:zlib";

const END_OF_DIRECTORY = 0x06054b50;
const DIRECTORY_ENTRY = 0x02014b50;
const LOCAL_ENTRY = 0x04034b50;
const PIECE = 256 * 1024;

interface ZipEntry {
  readonly name: string;
  readonly compressedSize: number;
  readonly size: number;
  readonly checksum: number;
  readonly offset: number;
}

export interface CheckedEntry {
  readonly name: string;
  readonly size: number;
  /** How often the needle occurs in the unpacked entry; 0 where none was asked for. */
  readonly hits: number;
}

async function bytes(file: FileHandle, from: number, count: number): Promise<Buffer> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(count), 0, count, from);
  if (bytesRead !== count) throw new Error("The written workbook is shorter than its own directory says.");
  return buffer;
}

/** The central directory of a zip file without ZIP64 (workbooks stay far below 4 GB). */
async function directory(file: FileHandle): Promise<ZipEntry[]> {
  const { size } = await file.stat();
  const tailSize = Math.min(size, 66_000);
  const tail = await bytes(file, size - tailSize, tailSize);
  let at = tail.length - 22;
  while (at >= 0 && tail.readUInt32LE(at) !== END_OF_DIRECTORY) at -= 1;
  if (at < 0) throw new Error("The written workbook has no directory: it is cut off.");
  const listed = await bytes(file, tail.readUInt32LE(at + 16), tail.readUInt32LE(at + 12));
  const entries: ZipEntry[] = [];
  for (let p = 0; p + 46 <= listed.length; ) {
    if (listed.readUInt32LE(p) !== DIRECTORY_ENTRY) throw new Error("The workbook's directory is damaged.");
    const nameLength = listed.readUInt16LE(p + 28);
    entries.push({
      name: listed.toString("utf8", p + 46, p + 46 + nameLength),
      checksum: listed.readUInt32LE(p + 16),
      compressedSize: listed.readUInt32LE(p + 20),
      size: listed.readUInt32LE(p + 24),
      offset: listed.readUInt32LE(p + 42),
    });
    p += 46 + nameLength + listed.readUInt16LE(p + 30) + listed.readUInt16LE(p + 32);
  }
  return entries;
}

/** Unpacks one entry piece by piece, so that a long worksheet never stands in memory whole. */
async function unpack(file: FileHandle, entry: ZipEntry, onPiece: (piece: Buffer) => void): Promise<void> {
  const local = await bytes(file, entry.offset, 30);
  if (local.readUInt32LE(0) !== LOCAL_ENTRY)
    throw new Error(`The workbook's part ${entry.name} is not there.`);
  const start = entry.offset + 30 + local.readUInt16LE(26) + local.readUInt16LE(28);
  if (local.readUInt16LE(8) === 0) {
    onPiece(await bytes(file, start, entry.compressedSize));
    return;
  }
  await pipeline(piecesOf(file, start, entry.compressedSize), createInflateRaw(), async (unpacked) => {
    for await (const piece of unpacked) onPiece(piece as Buffer);
  });
}

async function* piecesOf(file: FileHandle, start: number, length: number): AsyncGenerator<Buffer> {
  for (let done = 0; done < length; done += PIECE) {
    yield await bytes(file, start + done, Math.min(PIECE, length - done));
  }
}

function countIn(needle: string): { add(piece: Buffer): void; hits(): number } {
  const wanted = Buffer.from(needle);
  let rest = Buffer.alloc(0);
  let hits = 0;
  return {
    add(piece) {
      const joined = rest.length > 0 ? Buffer.concat([rest, piece]) : piece;
      let at = joined.indexOf(wanted);
      let after = 0;
      while (at >= 0) {
        hits += 1;
        after = at + wanted.length;
        at = joined.indexOf(wanted, after);
      }
      // Only what could still begin a needle is carried over.
      rest = Buffer.from(joined.subarray(Math.max(after, joined.length - wanted.length + 1)));
    },
    hits: () => hits,
  };
}

/**
 * Reads a finished zip file back: every entry is unpacked and held against its checksum and size, and `needle` is
 * counted in each.
 * @throws Error naming the part that does not agree
 */
export async function checkZip(path: string, needle: string): Promise<readonly CheckedEntry[]> {
  const file = await open(path, "r");
  try {
    const checked: CheckedEntry[] = [];
    for (const entry of await directory(file)) {
      let checksum = 0;
      let size = 0;
      const counter = countIn(needle);
      await unpack(file, entry, (piece) => {
        checksum = crc32(piece, checksum);
        size += piece.length;
        counter.add(piece);
      });
      if (checksum !== entry.checksum || size !== entry.size) {
        throw new Error(`The workbook's part ${entry.name} did not reach the disk as it was written.`);
      }
      checked.push({ name: entry.name, size, hits: counter.hits() });
    }
    return checked;
  } finally {
    await file.close();
  }
}
