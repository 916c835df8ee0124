import { readFileSync } from "node:fs";
import { brotliDecompressSync } from "node:zlib";

/** Known tags of WOFF2 (W3C Recommendation of 2022, 5.1) that are wanted here, by their place in its list. */
const KNOWN_TAGS: readonly string[] = ["cmap", "head", "hhea", "hmtx", "maxp", "name", "OS/2", "post"];
/** Places of `glyf` and `loca`, the tables that a version of 0 transforms (5.1). */
const TRANSFORMED_AT_0 = [10, 11];
const HEADER_BYTES = 48;

/** Reads a UIntBase128 (4.1). @returns the value and the place after it */
function base128(bytes: Buffer, at: number): readonly [number, number] {
  let value = 0;
  for (let place = at; place < at + 5; place += 1) {
    const byte = bytes[place] ?? 0;
    value = value * 128 + (byte & 0x7f);
    if ((byte & 0x80) === 0) return [value, place + 1];
  }
  throw new Error("a length in the WOFF2 directory does not end");
}

/** The table `cmap` of a WOFF2 file. @throws when there is none */
function cmapOf(woff2: Buffer): Buffer {
  if (woff2.toString("latin1", 0, 4) !== "wOF2") throw new Error("not a WOFF2 file");
  const tables = woff2.readUInt16BE(12);
  let at = HEADER_BYTES;
  let offset = 0;
  let found: readonly [number, number] | null = null;
  for (let i = 0; i < tables; i += 1) {
    const flags = woff2[at] ?? 0;
    const place = flags & 0x3f;
    at += 1;
    const tag = place === 0x3f ? woff2.toString("latin1", at, at + 4) : KNOWN_TAGS[place];
    if (place === 0x3f) at += 4;
    let length: number;
    [length, at] = base128(woff2, at);
    const version = flags >> 6;
    const transformed = TRANSFORMED_AT_0.includes(place) ? version === 0 : version !== 0;
    if (transformed) [length, at] = base128(woff2, at);
    if (tag === "cmap") found = [offset, length];
    offset += length;
  }
  if (!found) throw new Error("the font has no cmap");
  const data = brotliDecompressSync(woff2.subarray(at, at + woff2.readUInt32BE(20)));
  return data.subarray(found[0], found[0] + found[1]);
}

/** Segments of format 4 (OpenType 1.9, cmap): first and last code of each that stands for a glyph. */
function* format4(table: Buffer): Generator<number> {
  const segments = table.readUInt16BE(6) / 2;
  for (let i = 0; i < segments; i += 1) {
    const last = table.readUInt16BE(14 + 2 * i);
    const first = table.readUInt16BE(16 + 2 * segments + 2 * i);
    const delta = table.readUInt16BE(16 + 4 * segments + 2 * i);
    const rangeAt = 16 + 6 * segments + 2 * i;
    const range = table.readUInt16BE(rangeAt);
    for (let code = first; code <= last && code < 0xffff; code += 1) {
      const glyph = range === 0 ? code : table.readUInt16BE(rangeAt + range + 2 * (code - first));
      if (glyph !== 0 && ((glyph + delta) & 0xffff) !== 0) yield code;
    }
  }
}

/** Groups of format 12. */
function* format12(table: Buffer): Generator<number> {
  const groups = table.readUInt32BE(12);
  for (let i = 0; i < groups; i += 1) {
    const first = table.readUInt32BE(16 + 12 * i);
    const last = table.readUInt32BE(20 + 12 * i);
    for (let code = first; code <= last; code += 1) yield code;
  }
}

/** Every character a WOFF2 font has a glyph for, by the formats 4 and 12 of its cmap. */
export function charactersOfFont(path: string): ReadonlySet<string> {
  const cmap = cmapOf(readFileSync(path));
  const codes = new Set<string>();
  for (let i = 0; i < cmap.readUInt16BE(2); i += 1) {
    const table = cmap.subarray(cmap.readUInt32BE(4 + 8 * i + 4));
    const format = table.readUInt16BE(0);
    const found = format === 4 ? format4(table) : format === 12 ? format12(table) : [];
    for (const code of found) codes.add(String.fromCodePoint(code));
  }
  return codes;
}
