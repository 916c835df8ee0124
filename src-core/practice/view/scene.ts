/** What stands before the objective, and through what it is seen. Plain numbers: a picture is no result. */

/** A ruling of equal lines on the slide: a stage micrometer. Positions in µm from the ruling's first line. */
export interface Ruling {
  readonly pitchUm: number;
  /** Number of lines; the last is line `lines − 1`. */
  readonly lines: number;
  readonly lineWidthUm: number;
  /** Lengths of ordinary lines, of every fifth, of every tenth. */
  readonly lengthsUm: readonly [number, number, number];
}

/** How the slide lies: what the person moves. */
export interface Placing {
  /** Where the ruling's first line crosses its axis, µm from the middle of the field. */
  readonly xUm: number;
  readonly yUm: number;
  /** Turned against the reticle, degrees anticlockwise. */
  readonly turnedDeg: number;
  /** Out of focus in the middle of the field. */
  readonly outOfFocusUm: number;
  /** Change of focus along the ruling, µm for each µm. */
  readonly tilt: number;
}

/** A straight scale in the eyepiece, seen sharp. Lengths in millimetres on the reticle. */
export interface Reticle {
  readonly divisions: number;
  readonly lengthMm: number;
  readonly lineWidthMm: number;
  /** Every how many divisions a numeral stands. */
  readonly numeralEvery: number;
  /** Side of a counting square about the middle; without it none is drawn. */
  readonly frameMm?: number;
  /** Where a hairline stands, from the middle, and how long it is; without it none is drawn. */
  readonly hairline?: { readonly atMm: number; readonly lengthMm: number };
}

export interface ViewOptics {
  readonly objective: number;
  /** 1 where there is no changer, or it is out. */
  readonly intermediate: number;
  readonly na: number;
  readonly wavelengthUm: number;
  /** Diameter of the eyepiece's field stop, mm. */
  readonly fieldNumber: number;
  readonly reticle: Reticle;
  /** How dark a line is against its surroundings, 0 to 1. */
  readonly contrast: number;
  /** How much darker the field's rim is than its middle, 0 to 1. */
  readonly unevenness: number;
  /** Photons of a pixel in the bright field; 0 draws no noise. */
  readonly photons: number;
  /** Cubic distortion: relative stretch at the rim of the field, positive outwards. */
  readonly distortion: number;
  /** The reticle against the image, mm on the reticle: the head moved, the eyepiece not focused on the reticle. */
  readonly parallaxMm: number;
}

/** The µm on the specimen that one millimetre on the reticle covers. */
export function micrometresPerMm(optics: Pick<ViewOptics, "objective" | "intermediate">): number {
  return 1000 / (optics.objective * optics.intermediate);
}

/** True µm of one division in the middle of the field: what a perfect calibration finds. */
export function trueFactorUm(optics: ViewOptics): number {
  return (optics.reticle.lengthMm / optics.reticle.divisions) * micrometresPerMm(optics);
}

/** Where a perfect reader reads a point of the image, divisions. */
export function reticleReading(optics: ViewOptics, xUm: number): number {
  return xUm / trueFactorUm(optics) + optics.reticle.divisions / 2;
}

export interface Raster {
  readonly width: number;
  readonly height: number;
  /** Pixels for one millimetre on the reticle. */
  readonly pixelsPerMm: number;
  /** What the middle of the picture shows, mm on the reticle from the field's middle; y upwards. */
  readonly lookAtMm: readonly [number, number];
}

/** The same picture in a quarter of the pixels: what is shown while it moves where whole pictures would come too late. */
export function coarser({ width, height, pixelsPerMm, lookAtMm }: Raster): Raster {
  const half = Math.ceil(width / 2);
  return {
    width: half,
    height: Math.ceil(height / 2),
    pixelsPerMm: (pixelsPerMm * half) / width,
    lookAtMm,
  };
}

/** Column and row of the field's middle, in pixels; may lie outside the picture. */
export function fieldMiddle({
  width,
  height,
  pixelsPerMm,
  lookAtMm: [x, y],
}: Raster): readonly [number, number] {
  return [(width - 1) / 2 - x * pixelsPerMm, (height - 1) / 2 + y * pixelsPerMm];
}
