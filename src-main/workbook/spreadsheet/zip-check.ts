import { open } from "node:fs/promises";
import { crc32 } from "node:zlib";
import { unpack, zipDirectory } from "./zip-entries.ts";

export interface CheckedEntry {
  readonly name: string;
  readonly size: number;
  /** How often the needle occurs in the unpacked entry; 0 where none was asked for. */
  readonly hits: number;
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
    for (const entry of await zipDirectory(file)) {
      let checksum = 0;
      let size = 0;
      const counter = countIn(needle);
      for await (const piece of unpack(file, entry, entry.size)) {
        checksum = crc32(piece, checksum);
        size += piece.length;
        counter.add(piece);
      }
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
