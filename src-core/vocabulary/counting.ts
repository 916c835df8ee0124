export const DISPERSION_VERDICTS = ["clustered", "random", "regular", "undecided"] as const;
export type DispersionVerdict = (typeof DISPERSION_VERDICTS)[number];

/**
 * When to stop counting, as data. `units`: objects counted, of the classes named or of all. `interval`: relative
 * half-width of the interval that may be shown for the field counts. `all` and `any` combine rules.
 */
export type StoppingRule =
  | {
      readonly kind: "units";
      readonly atLeast: number;
      readonly classes?: readonly string[];
      /** What the classes are together: the name of a sum. */
      readonly of?: string;
    }
  | { readonly kind: "fields"; readonly atLeast: number }
  | { readonly kind: "minutes"; readonly atLeast: number }
  | { readonly kind: "marker"; readonly atLeast: number }
  | { readonly kind: "interval"; readonly relativeHalfWidth: number; readonly level: number }
  | { readonly kind: "all"; readonly rules: readonly StoppingRule[] }
  | { readonly kind: "any"; readonly rules: readonly StoppingRule[] };

export const COUNT_RULES = ["skewed-limits", "larger-of-two", "clustered-only"] as const;
/**
 * Which interval a count rests on. `larger-of-two`: the scatter between fields where they cluster or where it gives the
 * larger U, else the total count; k by Student's t. `skewed-limits`, the rule of today: the same U, but limits that
 * reach further up where fields differ more than chance allows, printed in place of ± where ± would mislead; limits by
 * marker spores hold the doubt of both counts. `clustered-only`: the scatter only where the dispersion test finds
 * clusters, which a few fields seldom show, fibres never, k = 2. The latter two are how earlier versions closed counts.
 */
export type CountRule = (typeof COUNT_RULES)[number];

/** How a count is closed today. */
export const COUNT_RULE_OF_TODAY: CountRule = "skewed-limits";

/** Which relation gives the carbon of a cell from its volume; `none`: no carbon is told. */
export const CARBON_CLASSES = ["none", "protists", "diatoms"] as const;
export type CarbonClass = (typeof CARBON_CLASSES)[number];
