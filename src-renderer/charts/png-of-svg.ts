/** Tried in this order until the picture is small enough: pixels of the PNG for one of the drawing. */
const SCALES = [2, 1.5, 1] as const;

export interface Drawing {
  readonly svg: string;
  /** px */
  readonly width: number;
  readonly height: number;
}

/**
 * Draws an SVG document that needs nothing beside itself as a PNG.
 * @param most characters of the base64 text
 * @returns base64 (RFC 4648, clause 4), or null when the window cannot draw it or it is too large
 */
export async function pngOfSvg({ svg, width, height }: Drawing, most: number): Promise<string | null> {
  const image = new Image(width, height);
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  try {
    await image.decode();
  } catch {
    return null;
  }
  for (const scale of SCALES) {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [Math.round(width * scale), Math.round(height * scale)];
    const context = canvas.getContext("2d");
    if (!context) return null;
    context.drawImage(image, 0, 0, canvas.width, canvas.height);
    const base64 = canvas.toDataURL("image/png").split(",")[1] ?? "";
    if (base64.length > 0 && base64.length <= most) return base64;
  }
  return null;
}
