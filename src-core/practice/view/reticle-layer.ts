import { fieldMiddle, type Raster, type Reticle } from "./scene.ts";
import { distanceToStroke, numeralStrokes } from "./strokes.ts";

/** Lengths of a division's line, mm: ordinary, every fifth, every tenth. */
const LINE_LENGTHS_MM = [0.35, 0.5, 0.7] as const;
const NUMERAL_HEIGHT_MM = 0.34;
const NUMERAL_GAP_MM = 0.08;

/** ∫ of a tent of width 2 and height 1 up to a place. */
function tentUpTo(place: number): number {
  const within = Math.min(1, Math.max(-1, place));
  return within < 0 ? (within + 1) ** 2 / 2 : 1 - (1 - within) ** 2 / 2;
}

/**
 * How much of a mark between two places a pixel shows. Shared between pixels by a tent, so that the middle of what is
 * shown is the mark's middle, however narrow the mark is (equal parts of a pixel would round it to whole pixels).
 */
function shown(at: number, from: number, to: number): number {
  return tentUpTo(to - at) - tentUpTo(from - at);
}

/** Length of the line at a division, mm. */
export function reticleLineLengthMm(division: number): number {
  return LINE_LENGTHS_MM[division % 10 === 0 ? 2 : division % 5 === 0 ? 1 : 0];
}

/**
 * What the reticle takes away of the light, 0 to 1 for each pixel, row by row: its lines upright in the middle of the
 * field, standing on the field's middle line, numerals above. Sharp: the reticle lies in the eyepiece's own focus.
 */
export function reticleLayer(reticle: Reticle, raster: Raster): Float32Array {
  const { width, height, pixelsPerMm } = raster;
  const layer = new Float32Array(width * height);
  const [middleX, middleY] = fieldMiddle(raster);
  const half = (reticle.lineWidthMm * pixelsPerMm) / 2;
  const pitch = (reticle.lengthMm / reticle.divisions) * pixelsPerMm;

  const add = (x: number, y: number, part: number): void => {
    if (part <= 0 || x < 0 || y < 0 || x >= width || y >= height) return;
    const place = y * width + x;
    layer[place] = Math.min(1, (layer[place] ?? 0) + part);
  };

  /** A black bar between two places, in pixels. */
  const bar = (left: number, right: number, top: number, bottom: number): void => {
    for (let x = Math.floor(left) - 1; x <= right + 1; x += 1) {
      const across = shown(x, left, right);
      if (across === 0) continue;
      for (let y = Math.floor(top) - 1; y <= bottom + 1; y += 1) add(x, y, across * shown(y, top, bottom));
    }
  };
  const upright = (at: number, top: number, bottom: number): void => bar(at - half, at + half, top, bottom);

  if (reticle.frameMm !== undefined) {
    const side = (reticle.frameMm / 2) * pixelsPerMm;
    for (const edge of [-side, side]) {
      upright(middleX + edge, middleY - side - half, middleY + side + half);
      bar(middleX - side + half, middleX + side - half, middleY + edge - half, middleY + edge + half);
    }
  }
  if (reticle.hairline !== undefined) {
    const reach = (reticle.hairline.lengthMm / 2) * pixelsPerMm;
    upright(middleX + reticle.hairline.atMm * pixelsPerMm, middleY - reach, middleY + reach);
  }
  // A reticle without a scale has no divisions.
  for (let division = 0; reticle.divisions > 0 && division <= reticle.divisions; division += 1) {
    const at = middleX + (division - reticle.divisions / 2) * pitch;
    const top = middleY - reticleLineLengthMm(division) * pixelsPerMm;
    upright(at, top, middleY);
    if (division % reticle.numeralEvery !== 0) continue;
    const numeralTop = top - (NUMERAL_HEIGHT_MM + NUMERAL_GAP_MM) * pixelsPerMm;
    drawNumeral(division, at, numeralTop);
  }
  return layer;

  function drawNumeral(value: number, at: number, top: number): void {
    const tall = NUMERAL_HEIGHT_MM * pixelsPerMm;
    const strokes = numeralStrokes(value, at, top, tall);
    const thick = Math.max(0.6, half);
    const reach = tall * String(value).length;
    for (let y = Math.floor(top - thick - 1); y <= top + tall + thick + 1; y += 1) {
      for (let x = Math.floor(at - reach); x <= at + reach; x += 1) {
        const nearest = Math.min(...strokes.map((stroke) => distanceToStroke(stroke, x, y)));
        add(x, y, Math.min(1, Math.max(0, thick + 0.5 - nearest)));
      }
    }
  }
}
