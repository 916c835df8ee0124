import { memberAt } from "../../statistics/sample.ts";
import { type BlurredEdge, blurredEdge } from "./edge-spreads.ts";
import { fieldMiddle, micrometresPerMm, type Placing, type Raster, type ViewOptics } from "./scene.ts";

/** An object on the slide; lengths in µm. Its place is that of its middle, in the slide's own axes. */
export interface Specimen {
  readonly outline: Outline;
  readonly xUm: number;
  readonly yUm: number;
  /** Turned against the slide, degrees anticlockwise. */
  readonly turnedDeg: number;
  /** Thickness of the dark wall, inwards from the outline. */
  readonly wallUm: number;
  /** Light that the wall and the inside take, 0 to 1. */
  readonly wallDark: number;
  readonly bodyDark: number;
  /** Spines on the outline: their height; 0: smooth. */
  readonly ornamentUm: number;
}

/**
 * The outer edge: of a sphere or ellipsoid, of a spore with an apiculus, of a boat-shaped diatom valve, of a straight or
 * bent rod with round ends, of a grain of dirt.
 */
export type Outline =
  | { readonly kind: "ellipse"; readonly lengthUm: number; readonly widthUm: number }
  | {
      readonly kind: "spore";
      /** Of the ellipsoid, without the apiculus. */
      readonly lengthUm: number;
      readonly widthUm: number;
      /** How far the apiculus stands out beyond the right end. */
      readonly apiculusUm: number;
    }
  | { readonly kind: "valve"; readonly lengthUm: number; readonly widthUm: number }
  | {
      readonly kind: "rod";
      /** End to end along its own line. */
      readonly lengthUm: number;
      readonly widthUm: number;
      /** How far the middle stands off the straight line between the ends' middles. */
      readonly bendUm: number;
    }
  | {
      readonly kind: "debris";
      readonly sizeUm: number;
      /** Waves round the outline: how many, how high as a part of the radius, and where. */
      readonly waves: readonly (readonly [number, number, number])[];
    };

const SPINES = 24;
/** Width of a spine as a part of its height. */
const SPINE_WIDTH = 0.5;

/** Width of an apiculus as a part of the width of its spore. */
const APICULUS_WIDTH = 0.16;
/** Radius of the ends of a valve as a part of its width. */
const VALVE_ENDS = 0.12;

type Distance = (x: number, y: number) => number;

/** Distance outwards from an ellipse, to first order f/|∇f|: exact on the outline and everywhere of a circle. */
function fromEllipse(a: number, b: number): Distance {
  return (x, y) => {
    const f = Math.hypot(x / a, y / b);
    if (f < 1e-9) return -Math.min(a, b);
    return ((f - 1) * f) / Math.hypot(x / (a * a), y / (b * b));
  };
}

/** An ellipse with a short round-ended peg at its right end. */
function fromSpore(lengthUm: number, widthUm: number, apiculusUm: number): Distance {
  const [a, b] = [lengthUm / 2, widthUm / 2];
  const body = fromEllipse(a, b);
  const radius = (widthUm * APICULUS_WIDTH) / 2;
  const tip = a + apiculusUm - radius;
  return (x, y) => {
    const along = Math.min(tip, Math.max(a - 3 * radius, x));
    return Math.min(body(x, y), Math.hypot(x - along, y) - radius);
  };
}

/**
 * Two arcs of one radius that meet at both ends, rounded there: the exact distance from the lens between them, its
 * corners at ±`end` and its height 2·`high` before it is widened by the radius of the ends.
 */
function fromValve(lengthUm: number, widthUm: number): Distance {
  const round = widthUm * VALVE_ENDS;
  const [end, high] = [lengthUm / 2 - round, widthUm / 2 - round];
  const arc = (end * end + high * high) / (2 * high);
  const off = arc - high;
  return (x, y) => {
    const [along, above] = [Math.abs(x), Math.abs(y)];
    // Beyond the normals of the arcs at their corner the corner is nearest.
    const corner = (along - end) * off > above * end;
    return (corner ? Math.hypot(along - end, above) : Math.hypot(along, above + off) - arc) - round;
  };
}

function fromRod(lengthUm: number, widthUm: number, bendUm: number): Distance {
  const half = (lengthUm - widthUm) / 2;
  const radius = widthUm / 2;
  if (Math.abs(bendUm) < 1e-6)
    return (x, y) => Math.hypot(x - Math.min(half, Math.max(-half, x)), y) - radius;
  // The arc through both ends' middles and a point `bend` above them; `half` stays half of its chord.
  const arc = (half * half + bendUm * bendUm) / (2 * bendUm);
  const middleY = bendUm - arc;
  const reach = Math.asin(Math.min(1, half / Math.abs(arc)));
  return (x, y) => {
    const up = Math.sign(arc);
    const angle = Math.atan2(x * up, (y - middleY) * up);
    if (Math.abs(angle) <= reach) return Math.abs(Math.hypot(x, y - middleY) - Math.abs(arc)) - radius;
    return Math.hypot(Math.abs(x) - half, y) - radius;
  };
}

/** Distance from a star-shaped outline, to first order. */
function fromDebris(sizeUm: number, waves: readonly (readonly [number, number, number])[]): Distance {
  return (x, y) => {
    const angle = Math.atan2(y, x);
    let r = 1;
    let slope = 0;
    for (const [times, high, at] of waves) {
      r += high * Math.cos(times * angle + at);
      slope -= times * high * Math.sin(times * angle + at);
    }
    const out = Math.hypot(x, y);
    const radius = (sizeUm / 2) * r;
    return (out - radius) / Math.hypot(1, ((sizeUm / 2) * slope) / Math.max(out, radius));
  };
}

function distanceFrom(outline: Outline): Distance {
  if (outline.kind === "ellipse") return fromEllipse(outline.lengthUm / 2, outline.widthUm / 2);
  if (outline.kind === "spore") return fromSpore(outline.lengthUm, outline.widthUm, outline.apiculusUm);
  if (outline.kind === "valve") return fromValve(outline.lengthUm, outline.widthUm);
  if (outline.kind === "rod") return fromRod(outline.lengthUm, outline.widthUm, outline.bendUm);
  return fromDebris(outline.sizeUm, outline.waves);
}

/** Distance from the nearest spine: each stands upright on the ellipse as a rod with round ends. */
function fromSpines({ outline, ornamentUm }: Specimen): Distance | null {
  if (ornamentUm <= 0 || outline.kind !== "ellipse") return null;
  const [a, b] = [outline.lengthUm / 2, outline.widthUm / 2];
  const spines = Array.from({ length: SPINES }, (_, index) => {
    const angle = (2 * Math.PI * (index + 0.5)) / SPINES;
    const [x, y] = [a * Math.cos(angle), b * Math.sin(angle)];
    const normal = Math.hypot(x / (a * a), y / (b * b));
    return [x, y, x / (a * a) / normal, y / (b * b) / normal] as const;
  });
  const radius = (ornamentUm * SPINE_WIDTH) / 2;
  const tall = ornamentUm - radius;
  return (x, y) => {
    // The feet stand at equal steps of this angle: the nearest spine is one of three.
    const step = Math.floor((Math.atan2(y / b, x / a) / (2 * Math.PI)) * SPINES) + SPINES;
    let nearest = Number.POSITIVE_INFINITY;
    for (let other = step - 1; other <= step + 1; other += 1) {
      const [footX, footY, upX, upY] = memberAt(spines, other % SPINES);
      const along = Math.min(tall, Math.max(0, (x - footX) * upX + (y - footY) * upY));
      nearest = Math.min(nearest, Math.hypot(x - footX - along * upX, y - footY - along * upY));
    }
    return nearest - radius;
  };
}

/** Half of the extents along and across its own axis, ornament included, µm. */
function halvesOf({ outline, ornamentUm }: Specimen): readonly [number, number] {
  if (outline.kind === "debris") return [0.8 * outline.sizeUm, 0.8 * outline.sizeUm];
  const apiculusUm = outline.kind === "spore" ? outline.apiculusUm : 0;
  const bendUm = outline.kind === "rod" ? Math.abs(outline.bendUm) : 0;
  return [outline.lengthUm / 2 + apiculusUm + ornamentUm, outline.widthUm / 2 + bendUm + ornamentUm];
}

/**
 * The light that an object takes at a distance outwards from its outline. Each edge is blurred as a long straight one
 * is; of an edge that curves with a radius of some λ/NA this is good to a few hundredths of its light
 * (`specimen.test.ts` holds it against the exact image of a disc).
 */
function takenAt(edge: BlurredEdge, { wallUm, wallDark, bodyDark }: Specimen, outwards: number): number {
  const inside = edge.inside(outwards + wallUm);
  return wallDark * (edge.inside(outwards) - inside) + bodyDark * inside;
}

/**
 * Takes away what specimens take of the light, pixel by pixel. Where they lie over each other, each takes its part of
 * what the others leave.
 */
export function darkenBySpecimens(
  light: Float32Array,
  specimens: readonly Specimen[],
  placing: Placing,
  optics: ViewOptics,
  raster: Raster,
): void {
  const umPerPixel = micrometresPerMm(optics) / raster.pixelsPerMm;
  const [middleX, middleY] = fieldMiddle(raster);
  const stop = (optics.fieldNumber / 2) * raster.pixelsPerMm;
  const shift = optics.parallaxMm * raster.pixelsPerMm;
  const slide = (placing.turnedDeg * Math.PI) / 180;
  const [cosine, sine] = [Math.cos(slide), Math.sin(slide)];
  for (const specimen of specimens) {
    // Its middle in the field, µm, then in pixels; the slide turns about the place of its first line.
    const atX = placing.xUm + specimen.xUm * cosine - specimen.yUm * sine;
    const atY = placing.yUm + specimen.xUm * sine + specimen.yUm * cosine;
    const outOfFocusUm = placing.outOfFocusUm + placing.tilt * (specimen.xUm + placing.xUm);
    const edge = blurredEdge(outOfFocusUm, optics, umPerPixel);
    const stretch = 1 + Math.abs(optics.distortion);
    const [x0, y0] = [middleX + shift + atX / umPerPixel, middleY - atY / umPerPixel];
    const bent = Math.abs(optics.distortion) * Math.hypot(x0 - middleX, y0 - middleY);
    const own = ((placing.turnedDeg + specimen.turnedDeg) * Math.PI) / 180;
    const [ownCosine, ownSine] = [Math.cos(own), Math.sin(own)];
    const [half, halfAcross] = halvesOf(specimen);
    const reachOf = (extentUm: number): number => ((extentUm + edge.reachUm) / umPerPixel) * stretch + 2;
    const reachX = reachOf(Math.abs(ownCosine) * half + Math.abs(ownSine) * halfAcross);
    const reachY = reachOf(Math.abs(ownSine) * half + Math.abs(ownCosine) * halfAcross);
    const outline = distanceFrom(specimen.outline);
    const spines = fromSpines(specimen);
    const fromRow = Math.max(0, Math.floor(y0 - reachY - bent));
    const toRow = Math.min(raster.height - 1, Math.ceil(y0 + reachY + bent));
    const fromColumn = Math.max(0, Math.floor(x0 - reachX - bent));
    const toColumn = Math.min(raster.width - 1, Math.ceil(x0 + reachX + bent));
    for (let row = fromRow; row <= toRow; row += 1) {
      const dy = middleY - row;
      for (let column = fromColumn; column <= toColumn; column += 1) {
        const imageX = column - middleX - shift;
        const squared = (imageX * imageX + dy * dy) / (stop * stop);
        const back = umPerPixel / (1 + optics.distortion * squared);
        const x = imageX * back - atX;
        const y = dy * back - atY;
        const along = x * ownCosine + y * ownSine;
        const across = y * ownCosine - x * ownSine;
        const outwards = outline(along, across);
        if (outwards > specimen.ornamentUm + edge.reachUm) continue;
        const taken = takenAt(edge, specimen, outwards);
        const spine =
          spines && outwards > -specimen.wallUm && outwards < specimen.ornamentUm + edge.reachUm
            ? specimen.wallDark * edge.inside(spines(along, across)) * (1 - edge.inside(outwards))
            : 0;
        const place = row * raster.width + column;
        light[place] = (light[place] as number) * (1 - optics.contrast * Math.min(1, taken + spine));
      }
    }
  }
}
