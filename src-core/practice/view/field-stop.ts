import { fieldMiddle, type Raster, type ViewOptics } from "./scene.ts";

/** Light beyond the field stop: black. */
export const OUTSIDE = 0;

/** The light of an empty field, 1 in its middle: uneven towards the rim, black beyond the round field stop. */
export function fieldStop(
  { fieldNumber, unevenness }: Pick<ViewOptics, "fieldNumber" | "unevenness">,
  raster: Raster,
): Float32Array {
  const { width, height, pixelsPerMm } = raster;
  const light = new Float32Array(width * height).fill(OUTSIDE);
  const [middleX, middleY] = fieldMiddle(raster);
  const stop = (fieldNumber / 2) * pixelsPerMm;
  const surelyInside = (stop - 0.5) ** 2;
  const surelyOutside = (stop + 0.5) ** 2;
  for (let row = 0; row < height; row += 1) {
    const dy = middleY - row;
    for (let column = 0; column < width; column += 1) {
      const dx = column - middleX;
      const squared = dx * dx + dy * dy;
      if (squared >= surelyOutside) continue;
      const inside = squared <= surelyInside ? 1 : stop + 0.5 - Math.sqrt(squared);
      light[row * width + column] = inside * (1 - (unevenness * squared) / stop ** 2);
    }
  }
  return light;
}
