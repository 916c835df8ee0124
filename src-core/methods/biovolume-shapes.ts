import { type Decimal, decimal, PI } from "../quantity/decimal.ts";
import type { BiovolumeShapeId } from "../vocabulary/derived-kinds.ts";
import type { Provenance } from "../vocabulary/provenance.ts";

/** An input of a shape: `key` names it in the formula, `name` says how it is measured. */
export interface ShapeInput {
  readonly key: string;
  readonly name: string;
}

/** coefficient · Π input^power; the powers of every term add up to 3. */
export interface VolumeTerm {
  readonly coefficient: Decimal;
  readonly powers: Readonly<Record<string, number>>;
}

/**
 * A solid whose volume is a sum of terms in its measured lengths, so that its derivatives follow from the same data.
 * `formula` is for print.
 */
export interface BiovolumeShape extends Provenance {
  readonly id: BiovolumeShapeId;
  readonly name: string;
  readonly inputs: readonly ShapeInput[];
  readonly formula: string;
  readonly terms: readonly VolumeTerm[];
}

const PUBLISHED_SHAPES: Provenance = {
  source: "H. Hillebrand et al., Journal of Phycology 35 (1999) 403; J. Sun and D. Liu (2003); EN 16695:2015",
  standing: "from memory",
};
const GEOMETRY: Provenance = { source: "Elementary geometry of the solid", standing: "common practice" };

const d: ShapeInput = { key: "d", name: "diameter" };
const h: ShapeInput = { key: "h", name: "height or length" };
const axes: readonly ShapeInput[] = [
  { key: "a", name: "length" },
  { key: "b", name: "width" },
  { key: "c", name: "depth" },
];
const piOver = (divisor: number): Decimal => PI.div(divisor);

function shape(
  id: BiovolumeShapeId,
  name: string,
  inputs: readonly ShapeInput[],
  formula: string,
  terms: readonly VolumeTerm[],
  provenance: Provenance = PUBLISHED_SHAPES,
): BiovolumeShape {
  return { id, name, inputs, formula, terms, ...provenance };
}

export const BIOVOLUME_SHAPES = [
  shape("sphere", "sphere", [d], "π/6·d³", [{ coefficient: piOver(6), powers: { d: 3 } }]),
  shape("prolate-spheroid", "prolate spheroid (rotational ellipsoid)", [d, h], "π/6·d²·h", [
    { coefficient: piOver(6), powers: { d: 2, h: 1 } },
  ]),
  shape("ellipsoid", "ellipsoid", axes, "π/6·a·b·c", [
    { coefficient: piOver(6), powers: { a: 1, b: 1, c: 1 } },
  ]),
  shape("cylinder", "cylinder", [d, h], "π/4·d²·h", [{ coefficient: piOver(4), powers: { d: 2, h: 1 } }]),
  shape("elliptic-cylinder", "elliptic cylinder (prism on elliptic base)", axes, "π/4·a·b·c", [
    { coefficient: piOver(4), powers: { a: 1, b: 1, c: 1 } },
  ]),
  shape("cone", "cone", [d, h], "π/12·d²·h", [{ coefficient: piOver(12), powers: { d: 2, h: 1 } }]),
  shape("double-cone", "double cone", [d, { key: "h", name: "total length" }], "π/12·d²·h", [
    { coefficient: piOver(12), powers: { d: 2, h: 1 } },
  ]),
  shape(
    "truncated-cone",
    "truncated cone",
    [{ key: "d1", name: "diameter at one end" }, { key: "d2", name: "diameter at the other end" }, h],
    "π/12·h·(d1² + d1·d2 + d2²)",
    [
      { coefficient: piOver(12), powers: { d1: 2, h: 1 } },
      { coefficient: piOver(12), powers: { d1: 1, d2: 1, h: 1 } },
      { coefficient: piOver(12), powers: { d2: 2, h: 1 } },
    ],
  ),
  shape("box", "rectangular box (parallelepiped)", axes, "a·b·c", [
    { coefficient: decimal(1), powers: { a: 1, b: 1, c: 1 } },
  ]),
  shape("rhombic-prism", "rhombic prism", axes, "½·a·b·c", [
    { coefficient: decimal("0.5"), powers: { a: 1, b: 1, c: 1 } },
  ]),
  shape("triangular-prism", "triangular prism (equilateral)", [{ key: "a", name: "side" }, h], "√3/4·a²·h", [
    { coefficient: decimal(3).sqrt().div(4), powers: { a: 2, h: 1 } },
  ]),
  shape(
    "tetrahedron",
    "tetrahedron (regular)",
    [{ key: "a", name: "edge" }],
    "√2/12·a³",
    [{ coefficient: decimal(2).sqrt().div(12), powers: { a: 3 } }],
    GEOMETRY,
  ),
  shape("half-sphere", "half sphere", [d], "π/12·d³", [{ coefficient: piOver(12), powers: { d: 3 } }]),
  shape(
    "cone-half-sphere",
    "cone with half sphere",
    [d, { key: "h", name: "total length" }],
    "π/12·d²·(h + d/2)",
    [
      { coefficient: piOver(12), powers: { d: 2, h: 1 } },
      { coefficient: piOver(24), powers: { d: 3 } },
    ],
  ),
  shape(
    "capsule",
    "cylinder with two half spheres",
    [d, { key: "h", name: "total length" }],
    "π/4·d²·(h − d/3)",
    [
      { coefficient: piOver(4), powers: { d: 2, h: 1 } },
      { coefficient: piOver(12).neg(), powers: { d: 3 } },
    ],
  ),
] as const;
