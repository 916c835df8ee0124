/** What a picture is by its own header, and how many points it has when it is decoded. */
export interface PictureSize {
  readonly mediaType: "image/png" | "image/jpeg";
  readonly width: number;
  readonly height: number;
}

const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const IHDR = [0x49, 0x48, 0x44, 0x52];
const JPEG = [0xff, 0xd8, 0xff];

type Sides = Pick<PictureSize, "width" | "height">;

function holds(bytes: DataView, at: number, wanted: readonly number[]): boolean {
  return (
    bytes.byteLength >= at + wanted.length &&
    wanted.every((byte, index) => bytes.getUint8(at + index) === byte)
  );
}

/** From the header chunk, which comes first (W3C PNG, 5.6 and 11.2.1). */
function sidesOfPng(bytes: DataView): Sides | null {
  if (!holds(bytes, 12, IHDR) || bytes.byteLength < 24) return null;
  return { width: bytes.getUint32(16), height: bytes.getUint32(20) };
}

/** Markers of a frame header: SOF0 to SOF15 without DHT, JPG and DAC (ITU-T T.81, table B.1). */
function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
}

/** Markers without a length: TEM, the restart markers and SOI (ITU-T T.81, B.1.1.3). */
function standsAlone(marker: number): boolean {
  return marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8);
}

/** From the frame header, segment by segment up to the first scan (ITU-T T.81, B.1.1.4 and B.2.2). */
function sidesOfJpeg(bytes: DataView): Sides | null {
  for (let at = 2; at + 9 <= bytes.byteLength; ) {
    const marker = bytes.getUint8(at + 1);
    if (bytes.getUint8(at) !== 0xff || marker === 0xda || marker === 0xd9) return null;
    if (isFrame(marker)) return { width: bytes.getUint16(at + 7), height: bytes.getUint16(at + 5) };
    // Any number of fill bytes may stand before a marker.
    if (marker === 0xff) at += 1;
    else at += standsAlone(marker) ? 2 : 2 + bytes.getUint16(at + 2);
  }
  return null;
}

/** How large a PNG or JPEG will be once it is decoded; null for what is neither, or has no whole header. */
export function pictureSize(content: Uint8Array): PictureSize | null {
  const bytes = new DataView(content.buffer, content.byteOffset, content.byteLength);
  const mediaType = holds(bytes, 0, PNG) ? "image/png" : holds(bytes, 0, JPEG) ? "image/jpeg" : null;
  if (mediaType === null) return null;
  const sides = mediaType === "image/png" ? sidesOfPng(bytes) : sidesOfJpeg(bytes);
  return sides && sides.width > 0 && sides.height > 0 ? { mediaType, ...sides } : null;
}
