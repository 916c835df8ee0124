import { type Decimal, ONE } from "../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import { closeBudget } from "../uncertainty/budget.ts";
import { fromResolution, ROOT_3, ROOT_12, rectangular } from "../uncertainty/type-b.ts";
import type { Uncertainty } from "../uncertainty/uncertainty.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";

export interface FocusDepthInput {
  /** Readings of the fine focus at the upper and lower surface, µm. */
  readonly upper: Decimal;
  readonly lower: Decimal;
  /** Smallest step read on the fine-focus drum, µm. */
  readonly drumStep: Decimal;
  /** Standard deviation of finding one surface, µm; about half the depth of field. */
  readonly focusing: Decimal;
  /** Refractive index of what the object lies in, and of what fills the gap to the objective, with half-widths. */
  readonly mountIndex: Decimal;
  readonly mountIndexHalfWidth: Decimal;
  readonly immersionIndex: Decimal;
  readonly immersionIndexHalfWidth: Decimal;
  readonly coverage: CoverageRule;
}

export interface FocusDepth {
  /** |lower − upper|, µm on the drum. */
  readonly drumTravel: Decimal;
  /** True thickness, µm. */
  readonly depth: Decimal;
  readonly budget: ReturnType<typeof closeBudget>["components"];
  readonly uncertainty: Uncertainty;
}

/** @throws InputError when an index is below 1 or beyond any mounting medium */
function requireIndex(field: string, index: Decimal): Decimal {
  if (!index.isFinite() || index.lessThan(1) || index.greaterThan(4)) {
    throw new InputError(field, "is not a refractive index: air is 1, water 1.33, glass and oil about 1.52");
  }
  return index;
}

/**
 * Thickness by focusing on the upper and the lower surface: drum travel × n_mount/n_immersion. For rays near the axis
 * only; with high apertures it is an approximation. From memory (textbooks of microscopy).
 * @throws InputError naming the reading or condition
 */
export function focusDepth(input: FocusDepthInput): FocusDepth {
  const mount = requireIndex("mountIndex", input.mountIndex);
  const immersion = requireIndex("immersionIndex", input.immersionIndex);
  const drumTravel = requirePositive("lower", input.lower.minus(input.upper).abs());
  const ratio = mount.div(immersion);
  const depth = drumTravel.times(ratio);
  const reading = {
    distribution: "rectangular",
    standardUncertainty: fromResolution(requireNotNegative("drumStep", input.drumStep)),
    unit: "µm",
    divisor: ROOT_12,
    sensitivity: ratio,
    degreesOfFreedom: null,
    class: "occasion",
  } as const;
  const focusing = {
    ...reading,
    distribution: "normal",
    standardUncertainty: requireNotNegative("focusing", input.focusing),
    divisor: ONE,
  } as const;
  const index = {
    distribution: "rectangular",
    unit: "1",
    divisor: ROOT_3,
    degreesOfFreedom: null,
    class: "common",
  } as const;
  const budget = closeBudget(
    [
      { key: "drum-upper", name: "Drum at the upper surface", ...reading },
      { key: "drum-lower", name: "Drum at the lower surface", ...reading },
      { key: "focus-upper", name: "Focusing on the upper surface", ...focusing },
      { key: "focus-lower", name: "Focusing on the lower surface", ...focusing },
      {
        key: "mount-index",
        name: "Refractive index of the mount",
        ...index,
        standardUncertainty: rectangular(
          requireNotNegative("mountIndexHalfWidth", input.mountIndexHalfWidth),
        ),
        sensitivity: depth.div(mount),
      },
      {
        key: "immersion-index",
        name: "Refractive index towards the objective",
        ...index,
        standardUncertainty: rectangular(
          requireNotNegative("immersionIndexHalfWidth", input.immersionIndexHalfWidth),
        ),
        sensitivity: depth.div(immersion).negated(),
      },
    ],
    input.coverage,
  );
  return { drumTravel, depth, budget: budget.components, uncertainty: budget.uncertainty };
}
