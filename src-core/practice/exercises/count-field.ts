import { countsAtEdges, type FrameEdge, TOP_LEFT_OUT } from "../../counting/methods/edge-rules.ts";
import { memberAt } from "../../statistics/sample.ts";
import { type Even, evenChance } from "../../uncertainty/chance-generator.ts";
import type { Specimen } from "../view/specimen.ts";

/** The square that is counted: its side on the reticle, mm. */
export const FRAME_MM = 5.6;
/** Through the objective of 20×. */
export const COUNTING_POWER = 20;
const UM_PER_MM = 1000 / COUNTING_POWER;
const HALF_UM = (FRAME_MM / 2) * UM_PER_MM;
/** Free objects keep this far from the frame and from each other, µm. */
const CLEAR_UM = 3;
const MOST_TRIES = 200;

/** The two kinds, and dirt that is neither. */
export type Kind = "1" | "2" | "dirt";

/** An object of a field. */
export interface FieldObject {
  readonly kind: Kind;
  readonly specimen: Specimen;
  /** Edges of the frame that its outline crosses. */
  readonly crossed: readonly FrameEdge[];
  /** Whether it belongs to the count: of a kind, inside, or on an edge that counts. */
  readonly counts: boolean;
}

const between = (chance: Even, low: number, high: number): number => low + (high - low) * chance();

/** Look-alikes: the second kind is slimmer, thinner of wall, and has short spines. Invented. */
function bodyOf(kind: Kind, chance: Even): Omit<Specimen, "xUm" | "yUm"> {
  const turnedDeg = Math.round(between(chance, 0, 180));
  if (kind === "dirt") {
    const waves = [3, 5, 7].map(
      (times) => [times, between(chance, 0.08, 0.2), between(chance, 0, 6)] as const,
    );
    const outline = { kind: "debris", sizeUm: between(chance, 8, 14), waves } as const;
    return { outline, turnedDeg, wallUm: 0, wallDark: 0, bodyDark: between(chance, 0.5, 0.8), ornamentUm: 0 };
  }
  const lengthUm = between(chance, 16, 20);
  const slim = kind === "1" ? between(chance, 0.86, 0.98) : between(chance, 0.66, 0.78);
  return {
    outline: { kind: "ellipse", lengthUm, widthUm: lengthUm * slim },
    turnedDeg,
    wallUm: kind === "1" ? 1.8 : 1.2,
    wallDark: 0.75,
    bodyDark: 0.22,
    ornamentUm: kind === "1" ? 0 : 1.6,
  };
}

/** Half of the extent of its outline to the sides and upwards, µm; ornament belongs to it. */
function halves({
  outline,
  turnedDeg,
  ornamentUm,
}: Omit<Specimen, "xUm" | "yUm">): readonly [number, number] {
  if (outline.kind === "debris") return [outline.sizeUm * 0.7, outline.sizeUm * 0.7];
  const angle = (turnedDeg * Math.PI) / 180;
  const [a, b] = [outline.lengthUm / 2, outline.widthUm / 2];
  return [
    Math.hypot(a * Math.cos(angle), b * Math.sin(angle)) + ornamentUm,
    Math.hypot(a * Math.sin(angle), b * Math.cos(angle)) + ornamentUm,
  ];
}

function crossedBy(specimen: Specimen): readonly FrameEdge[] {
  const [wide, high] = halves(specimen);
  const crosses = (at: number, half: number, edge: number): boolean => Math.abs(at - edge) < half;
  const edges: readonly (readonly [FrameEdge, boolean])[] = [
    ["top", crosses(specimen.yUm, high, HALF_UM)],
    ["right", crosses(specimen.xUm, wide, HALF_UM)],
    ["bottom", crosses(specimen.yUm, high, -HALF_UM)],
    ["left", crosses(specimen.xUm, wide, -HALF_UM)],
  ];
  return edges.filter(([, crossed]) => crossed).map(([edge]) => edge);
}

/** Every other field is a square ruled on a chamber, which the objects lie on; the others the eyepiece's own. */
export function isOnChamber(ordinal: number): boolean {
  return ordinal % 2 === 0;
}

const RULED_UM = 2.4;
const RULED_DARK = 0.5;
/** Beyond what is seen of the field. */
const RULED_LENGTH_UM = 8 * HALF_UM;

/** The lines of a chamber's grid that bound the square in the middle and go on beyond it; they lie on the slide. */
export function chamberLines(): readonly Specimen[] {
  const line = { kind: "rod", lengthUm: RULED_LENGTH_UM, widthUm: RULED_UM, bendUm: 0 } as const;
  const ruled = { outline: line, wallUm: 0, wallDark: 0, bodyDark: RULED_DARK, ornamentUm: 0 };
  return [-HALF_UM, HALF_UM].flatMap((at) => [
    { ...ruled, xUm: at, yUm: 0, turnedDeg: 90 },
    { ...ruled, xUm: 0, yUm: at, turnedDeg: 0 },
  ]);
}

/** The objects of a field of a run: free ones, two on edges that count, two on others, a clump, dirt. */
export function countField(seed: number, ordinal: number): readonly FieldObject[] {
  const chance = evenChance(seed + ordinal * 2791);
  const objects: FieldObject[] = [];
  const kindOf = (): Kind => (chance() < 0.55 ? "1" : "2");
  const apart = (x: number, y: number, half: number): boolean =>
    objects.every(({ specimen }) => {
      const other = Math.max(...halves(specimen));
      return Math.hypot(specimen.xUm - x, specimen.yUm - y) > half + other + CLEAR_UM;
    });
  const add = (
    kind: Kind,
    place: (wide: number, high: number) => readonly [number, number],
    touching = false,
  ): void => {
    const body = bodyOf(kind, chance);
    const [wide, high] = halves(body);
    for (let draw = 0; draw < MOST_TRIES; draw += 1) {
      const [xUm, yUm] = place(wide, high);
      if (!touching && !apart(xUm, yUm, Math.max(wide, high))) continue;
      const specimen = { ...body, xUm, yUm };
      const crossed = crossedBy(specimen);
      objects.push({
        kind,
        specimen,
        crossed,
        counts: kind !== "dirt" && countsAtEdges(crossed, TOP_LEFT_OUT),
      });
      return;
    }
  };
  const inside = (wide: number, high: number): readonly [number, number] => {
    const room = (half: number): number => HALF_UM - half - CLEAR_UM;
    return [between(chance, -room(wide), room(wide)), between(chance, -room(high), room(high))];
  };
  // Half in, half out, well away from the corners.
  const along = (): number => between(chance, -0.75 * HALF_UM, 0.75 * HALF_UM);
  const on = (edge: FrameEdge) => (wide: number, high: number) => {
    const off = between(chance, -0.5, 0.5);
    if (edge === "top") return [along(), HALF_UM + off * high] as const;
    if (edge === "bottom") return [along(), -HALF_UM + off * high] as const;
    if (edge === "right") return [HALF_UM + off * wide, along()] as const;
    return [-HALF_UM + off * wide, along()] as const;
  };
  for (const edges of [
    ["bottom", "right"],
    ["top", "left"],
  ] as const)
    for (let count = 0; count < 2; count += 1) add(kindOf(), on(memberAt(edges, Math.floor(chance() * 2))));
  // A clump: three that lie against each other.
  add(kindOf(), (wide, high) => {
    const [x, y] = inside(wide + 18, high + 18);
    return [x, y];
  });
  const clump = objects.at(-1)?.specimen;
  if (clump) {
    const first = between(chance, 0, 2 * Math.PI);
    for (const turn of [0, 1.2]) {
      const [x, y] = [Math.cos(first + turn) * 16, Math.sin(first + turn) * 16];
      add(kindOf(), () => [clump.xUm + x, clump.yUm + y], true);
    }
  }
  const free = 5 + Math.floor(chance() * 5);
  for (let count = 0; count < free; count += 1) add(kindOf(), inside);
  const dirt = 2 + Math.floor(chance() * 2);
  for (let count = 0; count < dirt; count += 1) add("dirt", inside);
  return objects;
}
