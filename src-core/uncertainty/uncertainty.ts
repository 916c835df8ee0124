import type { Decimal } from "../quantity/decimal.ts";

/**
 * `common`: shared by calibrations of one train from the same micrometer (certificate, its drift and expansion, the
 * train's distortion); `occasion`: fresh each time (JCGM 100:2008 F.1.2.3).
 */
export type ComponentClass = "common" | "occasion";

export interface BudgetComponent {
  /** Stable key: certificate, interpolation, drift, expansion, temperature, alignment, field, train, repeatability, reading-left, reading-right. */
  readonly key: string;
  /** Words for a person. */
  readonly name: string;
  readonly distribution: "normal" | "rectangular" | "skewed" | "t";
  /** Standard uncertainty of the input, in `unit`. */
  readonly standardUncertainty: Decimal;
  readonly unit: string;
  /** What the half-width or U was divided by. */
  readonly divisor: Decimal;
  /** ∂result/∂input. */
  readonly sensitivity: Decimal;
  /** |sensitivity · standardUncertainty|, in the unit of the result. */
  readonly contribution: Decimal;
  /** null: infinite. */
  readonly degreesOfFreedom: Decimal | null;
  /** Share of u_c², 0…1. */
  readonly share: Decimal;
  readonly class: ComponentClass;
}

export interface Uncertainty {
  readonly standard: Decimal;
  /** Welch–Satterthwaite, not truncated; null: infinite. */
  readonly degreesOfFreedom: Decimal | null;
  readonly coverageFactor: Decimal;
  readonly expanded: Decimal;
}
