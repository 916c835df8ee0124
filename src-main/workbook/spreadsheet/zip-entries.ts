import type { FileHandle } from "node:fs/promises";
import type { Writable } from "node:stream";
import { createInflateRaw } from "node:zlib";

const END_OF_DIRECTORY = 0x06054b50;
const DIRECTORY_ENTRY = 0x02014b50;
const LOCAL_ENTRY = 0x04034b50;
const PIECE = 256 * 1024;
const ENCRYPTED = 0x1;
/** Far more than any workbook has; a directory that claims more is not read. */
const MOST_ENTRIES = 5_000;
const LARGEST_DIRECTORY = 4 * 1024 * 1024;

/** A zip file that is cut off, damaged, or made to harm. */
export class BadZip extends Error {}

export interface ZipEntry {
  readonly name: string;
  readonly compressedSize: number;
  readonly size: number;
  readonly checksum: number;
  readonly offset: number;
}

async function bytes(file: FileHandle, from: number, count: number): Promise<Buffer> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(count), 0, count, from);
  if (bytesRead !== count) throw new BadZip("the file is shorter than its own directory says");
  return buffer;
}

function entriesOf(listed: Buffer): ZipEntry[] {
  const entries: ZipEntry[] = [];
  for (let p = 0; p + 46 <= listed.length; ) {
    if (listed.readUInt32LE(p) !== DIRECTORY_ENTRY) throw new BadZip("its directory is damaged");
    if (entries.length >= MOST_ENTRIES) throw new BadZip("it has too many parts");
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

/** The central directory of a zip file without ZIP64 (workbooks stay far below 4 GB). @throws BadZip */
export async function zipDirectory(file: FileHandle): Promise<ZipEntry[]> {
  const { size } = await file.stat();
  if (size < 22) throw new BadZip("it is too short for a workbook");
  const tailSize = Math.min(size, 66_000);
  const tail = await bytes(file, size - tailSize, tailSize);
  let at = tail.length - 22;
  while (at >= 0 && tail.readUInt32LE(at) !== END_OF_DIRECTORY) at -= 1;
  if (at < 0) throw new BadZip("it has no directory: it is cut off, or no workbook");
  const length = tail.readUInt32LE(at + 12);
  const from = tail.readUInt32LE(at + 16);
  if (length > LARGEST_DIRECTORY || from + length > size) throw new BadZip("its directory is damaged");
  return entriesOf(await bytes(file, from, length));
}

async function* piecesOf(file: FileHandle, start: number, length: number): AsyncGenerator<Buffer> {
  for (let done = 0; done < length; done += PIECE) {
    yield await bytes(file, start + done, Math.min(PIECE, length - done));
  }
}

async function startOf(file: FileHandle, entry: ZipEntry): Promise<{ start: number; method: number }> {
  const local = await bytes(file, entry.offset, 30);
  if (local.readUInt32LE(0) !== LOCAL_ENTRY) throw new BadZip(`its part ${entry.name} is not there`);
  if ((local.readUInt16LE(6) & ENCRYPTED) !== 0) throw new BadZip("it is protected by a password");
  const method = local.readUInt16LE(8);
  if (method !== 0 && method !== 8) throw new BadZip(`its part ${entry.name} is packed in an unknown way`);
  return { start: entry.offset + 30 + local.readUInt16LE(26) + local.readUInt16LE(28), method };
}

/**
 * Unpacks one entry piece by piece, so that a long worksheet never stands in memory whole.
 * @param most bytes that may come out: what an entry says of its own size is not believed
 * @throws BadZip
 */
export async function* unpack(file: FileHandle, entry: ZipEntry, most: number): AsyncGenerator<Buffer> {
  const { start, method } = await startOf(file, entry);
  const packed = piecesOf(file, start, entry.compressedSize);
  let out = 0;
  const source = method === 0 ? packed : inflated(packed);
  for await (const piece of source) {
    out += piece.length;
    if (out > most) throw new BadZip(`its part ${entry.name} unpacks to more than ${most} bytes`);
    yield piece;
  }
}

async function* inflated(packed: AsyncGenerator<Buffer>): AsyncGenerator<Buffer> {
  const inflate = createInflateRaw();
  const feeding = feed(packed, inflate);
  try {
    for await (const piece of inflate) yield piece as Buffer;
    await feeding;
  } catch (error) {
    if (error instanceof BadZip) throw error;
    throw new BadZip("one of its parts cannot be unpacked");
  } finally {
    inflate.destroy();
    await feeding.catch(() => undefined);
  }
}

async function feed(
  packed: AsyncGenerator<Buffer>,
  inflate: ReturnType<typeof createInflateRaw>,
): Promise<void> {
  try {
    for await (const piece of packed) {
      if (inflate.destroyed) return;
      if (!inflate.write(piece)) await drained(inflate);
    }
    inflate.end();
  } catch (error) {
    inflate.destroy(error as Error);
    throw error;
  }
}

/** Resolves when a stream takes more again, or has ended. */
export function drained(stream: Writable): Promise<void> {
  return new Promise((resolve) => {
    const goOn = (): void => {
      stream.off("drain", goOn);
      stream.off("close", goOn);
      resolve();
    };
    stream.on("drain", goOn);
    stream.on("close", goOn);
  });
}
