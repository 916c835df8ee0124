import { type Decimal, decimal, ZERO } from "../../quantity/decimal.ts";
import { requirePositive } from "../../quantity/input-error.ts";
import {
  type RelativeComponent,
  relativeVarianceOf,
  scaledBy,
  type UncertainProduct,
} from "../../quantity/uncertain-product.ts";
import { combine } from "../../uncertainty/combine.ts";
import { coverageFactor } from "../../uncertainty/coverage.ts";
import { roundStable } from "../intervals/count-checks.ts";
import type { CountEvidence } from "../intervals/count-evidence.ts";

/** A source of doubt with its share of u_c², 0…1. */
export interface DensityComponent extends RelativeComponent {
  readonly share: Decimal;
}

/** A density made from a count, in the unit of `unit`. */
export interface Density {
  readonly unit: string;
  readonly value: Decimal;
  /** What one counted object stands for. */
  readonly perObject: Decimal;
  /** Limits from the count alone, by the evidence's basis. */
  readonly lower: Decimal;
  readonly upper: Decimal;
  readonly evidence: CountEvidence;
  /** u_c/value, U = k·u_c; null when nothing was counted: report the limit instead. */
  readonly relative: Decimal | null;
  readonly expanded: Decimal | null;
  readonly coverageFactor: Decimal;
  /** Count first, then everything else, the factor counted once with its power. */
  readonly components: readonly DensityComponent[];
  /** The density as a product, to go on calculating with; null when nothing was counted. */
  readonly product: UncertainProduct | null;
}

const COUNT_NAMES = { poisson: "count of objects", "between-fields": "scatter between fields" } as const;

function withShares(product: UncertainProduct, variance: Decimal): readonly DensityComponent[] {
  return product.components.map((component) => ({
    ...component,
    share: variance.isZero() ? ZERO : component.relative.pow(2).div(variance),
  }));
}

/**
 * `t95`: Student's t for ν_eff, where only the scatter between fields has finite ν (JCGM 100:2008 G.4.1, G.6.4): alone it is
 * t(0.975, n − 1). `k2`: k = 2, as counts closed by earlier versions were frozen.
 */
export type DensityCoverage = Parameters<typeof coverageFactor>[0];

/**
 * Coverage factor of a product whose count has the key `count`, twelve digits: see `steady`.
 * @param degreesOfFreedom of the source with the key `count`; null: infinite
 */
export function coverageOf(
  components: readonly RelativeComponent[],
  degreesOfFreedom: number | null,
  rule: DensityCoverage,
): Decimal {
  const { degreesOfFreedom: effective } = combine(
    components.map(({ key, relative }) => ({
      contribution: relative.abs(),
      degreesOfFreedom: key === "count" && degreesOfFreedom !== null ? decimal(degreesOfFreedom) : null,
    })),
  );
  return decimal(roundStable(coverageFactor(rule, effective).toNumber()));
}

/**
 * Density = count × what one object stands for. u_c/value combines the count (√c, or the scatter between fields where
 * they give more) with area, depth, volume and dilution (JCGM 100:2008 5.1.6).
 */
export function densityOf(
  evidence: CountEvidence,
  perObject: UncertainProduct,
  rule: DensityCoverage = "t95",
): Density {
  requirePositive("perObject", perObject.value);
  const total = decimal(evidence.total);
  const scaled = (objects: number) => perObject.value.times(decimal(objects));
  const base = {
    unit: perObject.unit,
    value: total.times(perObject.value),
    perObject: perObject.value,
    lower: scaled(evidence.lower),
    upper: scaled(evidence.upper),
    evidence,
    coverageFactor: coverageOf([], null, rule),
  };
  if (total.isZero()) return { ...base, relative: null, expanded: null, components: [], product: null };
  const ofCount: RelativeComponent = {
    key: "count",
    name: COUNT_NAMES[evidence.basis],
    relative: decimal(evidence.standard).div(total),
  };
  const rest = scaledBy(perObject, total, perObject.unit);
  const product = { ...rest, components: [ofCount, ...rest.components] };
  const variance = relativeVarianceOf(product);
  const relative = variance.sqrt();
  const k = coverageOf(product.components, evidence.degreesOfFreedom, rule);
  return {
    ...base,
    relative,
    coverageFactor: k,
    expanded: relative.times(base.value).times(k),
    components: withShares(product, variance),
    product,
  };
}
