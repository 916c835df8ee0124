/** W3C PNG (Third Edition), 5.2: the signature; 5.6 and 11.2.1: IHDR comes first, of 13 bytes. */
const BEGINNING = Buffer.from([
  0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52,
]);
/** 11.2.5: IEND comes last; its length, name and checksum. */
const END = Buffer.from([0, 0, 0, 0, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82]);
/** A picture for a page is never larger, px. */
const LARGEST = 10_000;

export interface PngSize {
  readonly width: number;
  readonly height: number;
}

/** Width and height of a PNG, px; null when the bytes are no whole PNG of a usable size. */
export function pngSize(png: Buffer): PngSize | null {
  if (png.length < BEGINNING.length + END.length + 17) return null;
  if (!png.subarray(0, BEGINNING.length).equals(BEGINNING)) return null;
  if (!png.subarray(-END.length).equals(END)) return null;
  const [width, height] = [png.readUInt32BE(16), png.readUInt32BE(20)];
  return [width, height].every((side) => side >= 1 && side <= LARGEST) ? { width, height } : null;
}
