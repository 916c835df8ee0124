export const DISPERSION_VERDICTS = ["clustered", "random", "regular", "undecided"] as const;
export type DispersionVerdict = (typeof DISPERSION_VERDICTS)[number];

/**
 * When to stop counting, as data. `units`: objects counted, of the classes named or of all. `interval`: relative
 * half-width of the interval that may be shown for the field counts. `all` and `any` combine rules.
 */
export type StoppingRule =
  | { readonly kind: "units"; readonly atLeast: number; readonly classes?: readonly string[] }
  | { readonly kind: "fields"; readonly atLeast: number }
  | { readonly kind: "minutes"; readonly atLeast: number }
  | { readonly kind: "marker"; readonly atLeast: number }
  | { readonly kind: "interval"; readonly relativeHalfWidth: number; readonly level: number }
  | { readonly kind: "all"; readonly rules: readonly StoppingRule[] }
  | { readonly kind: "any"; readonly rules: readonly StoppingRule[] };

export const COUNT_RULES = ["larger-of-two", "clustered-only"] as const;
/**
 * Which interval a count of several fields rests on. `larger-of-two`: the scatter between fields where they cluster or
 * where it gives the larger U, else the total count; k by Student's t. `clustered-only`: the scatter only where the
 * dispersion test finds clusters, which a few fields seldom show, fibres never, k = 2: how earlier versions closed counts.
 */
export type CountRule = (typeof COUNT_RULES)[number];
