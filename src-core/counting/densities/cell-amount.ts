import { type Decimal, decimal, sumOf, ZERO } from "../../quantity/decimal.ts";
import { type DecimalText, textOfDecimal } from "../../quantity/decimal-text.ts";
import { relativeVarianceOf, type UncertainProduct } from "../../quantity/uncertain-product.ts";
import { combine } from "../../uncertainty/combine.ts";
import { coverageFactor } from "../../uncertainty/coverage.ts";
import { roundStable } from "../intervals/count-checks.ts";
import { valueWords } from "./reported-density.ts";

/** An amount in water with U, mm³/L or µg C/L. */
export interface CellAmount {
  readonly unit: string;
  readonly value: DecimalText;
  /** u_c/value, U = k·u_c; null when nothing was counted. */
  readonly relative: DecimalText | null;
  readonly expanded: DecimalText | null;
  readonly coverageFactor: DecimalText;
  /** As printed: the value with U, limits where ± U would reach below nothing, or “less than”. */
  readonly shown: string;
}

/** A product with the degrees of freedom of those of its sources that have finite ones, by key. */
export interface AmountProduct {
  readonly product: UncertainProduct;
  readonly degreesOfFreedom: ReadonlyMap<string, number>;
}

/** Limits of the count alone, in the unit of the amount. */
interface AmountLimits {
  readonly lower: Decimal;
  readonly upper: Decimal;
}

/** Limits by logarithms, value·exp(± k·u/value): what there is for a sum, which has no count of its own. */
function limitsByLogarithms(value: Decimal, spread: Decimal): AmountLimits {
  return { lower: value.times(spread.neg().exp()), upper: value.times(spread.exp()) };
}

/**
 * An amount with U: its sources combined as JCGM 100:2008 5.1.6 says, k by Student's t for ν_eff (G.4.1).
 * @param limits printed where U is as large as the value
 */
export function cellAmount({ product, degreesOfFreedom }: AmountProduct, limits?: AmountLimits): CellAmount {
  const { value, unit } = product;
  const relative = relativeVarianceOf(product).sqrt();
  const { degreesOfFreedom: effective } = combine(
    product.components.map(({ key, relative: one }) => {
      const degrees = degreesOfFreedom.get(key);
      return { contribution: one.abs(), degreesOfFreedom: degrees === undefined ? null : decimal(degrees) };
    }),
  );
  const k = decimal(roundStable(coverageFactor("t95", effective).toNumber()));
  const expanded = relative.times(value).times(k);
  const reach = limits ?? limitsByLogarithms(value, relative.times(k));
  const words = valueWords({ value, unit, expanded, coverageFactor: k, ...reach }, "half-even");
  return {
    unit,
    value: textOfDecimal(value),
    relative: textOfDecimal(relative),
    expanded: textOfDecimal(expanded),
    coverageFactor: textOfDecimal(k),
    shown: words.text,
  };
}

/** Nothing was counted: less than what the limit of the count amounts to, rounded up. */
export function amountBelow(limit: Decimal, unit: string): CellAmount {
  return {
    unit,
    value: textOfDecimal(ZERO),
    relative: null,
    expanded: null,
    coverageFactor: textOfDecimal(decimal(roundStable(coverageFactor("t95", null).toNumber()))),
    shown: `< ${limit.toSignificantDigits(2, 0).toFixed()} ${unit}`,
  };
}

/** A sum of amounts: what they share adds with its sign, everything else is independent (JCGM 100:2008 5.2.2, r = 1). */
export function sumOfAmounts(parts: readonly AmountProduct[], unit: string): AmountProduct | null {
  const total = sumOf(parts.map(({ product }) => product.value));
  if (!total.greaterThan(0)) return null;
  const sums = new Map<string, { readonly name: string; readonly sum: Decimal }>();
  const degreesOfFreedom = new Map<string, number>();
  for (const { product, degreesOfFreedom: own } of parts) {
    for (const { key, name, relative } of product.components) {
      const sum = relative.times(product.value).plus(sums.get(key)?.sum ?? ZERO);
      sums.set(key, { name, sum });
    }
    for (const [key, degrees] of own) degreesOfFreedom.set(key, degrees);
  }
  const components = [...sums].map(([key, { name, sum }]) => ({ key, name, relative: sum.div(total) }));
  return { product: { value: total, unit, components }, degreesOfFreedom };
}
