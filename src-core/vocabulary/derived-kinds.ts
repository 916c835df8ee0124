/** The solids a volume can be computed for; `BIOVOLUME_SHAPES` holds their formulas. */
export const BIOVOLUME_SHAPE_IDS = [
  "sphere",
  "prolate-spheroid",
  "ellipsoid",
  "cylinder",
  "elliptic-cylinder",
  "cone",
  "double-cone",
  "truncated-cone",
  "box",
  "rhombic-prism",
  "triangular-prism",
  "tetrahedron",
  "half-sphere",
  "cone-half-sphere",
  "capsule",
] as const;
export type BiovolumeShapeId = (typeof BIOVOLUME_SHAPE_IDS)[number];

/** Quantities that need no shape; `measurement/derived-kind.ts` says what each is. */
export const PLAIN_DERIVED_KINDS = ["ratio", "circle-area", "largest", "mean"] as const;
export type PlainDerivedKind = (typeof PLAIN_DERIVED_KINDS)[number];

/** What can be computed from the sizes of one row; a shape's id stands for its volume. */
export const DERIVED_KINDS: readonly [string, ...string[]] = [...PLAIN_DERIVED_KINDS, ...BIOVOLUME_SHAPE_IDS];

/** A formula that the laboratory wrote itself. */
export const OWN_FORMULA = "formula";
