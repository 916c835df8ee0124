import { type Decimal, decimal, sumOf } from "./decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "./input-error.ts";

/** One source of doubt of a product: u(x)/x with the sign in which it acts on the result. */
export interface RelativeComponent {
  /** Sources with the same key are the same doubt (the same factor, the same reading) and add with their signs. */
  readonly key: string;
  /** Words for a person. */
  readonly name: string;
  readonly relative: Decimal;
}

/**
 * A positive quantity made of products, quotients and powers, with its relative standard uncertainties by source.
 * Independent sources combine as in JCGM 100:2008 5.1.6; a source that enters more than once is counted once, with its
 * power (a factor squared in an area: 2·u(f)/f, 5.2.2 with r = 1).
 */
export interface UncertainProduct {
  readonly value: Decimal;
  readonly unit: string;
  readonly components: readonly RelativeComponent[];
}

/** A quantity taken as exact. @throws InputError when not greater than zero */
export function exactly(field: string, value: string | Decimal, unit: string): UncertainProduct {
  return { value: requirePositive(field, decimal(value)), unit, components: [] };
}

/**
 * A quantity with one source of doubt.
 * @param standardUncertainty in the unit of the value
 * @throws InputError when the value is not greater than zero or the uncertainty is negative
 */
export function withUncertainty(
  field: string,
  quantity: { readonly value: Decimal; readonly unit: string; readonly standardUncertainty: Decimal },
  source: { readonly key: string; readonly name: string },
): UncertainProduct {
  requirePositive(field, quantity.value);
  requireNotNegative(`${field} uncertainty`, quantity.standardUncertainty);
  const relative = quantity.standardUncertainty.div(quantity.value);
  return { value: quantity.value, unit: quantity.unit, components: [{ ...source, relative }] };
}

function merged(components: readonly RelativeComponent[]): readonly RelativeComponent[] {
  const byKey = new Map<string, RelativeComponent>();
  for (const component of components) {
    const before = byKey.get(component.key);
    const relative = before ? before.relative.plus(component.relative) : component.relative;
    byKey.set(component.key, { ...component, relative });
  }
  return [...byKey.values()];
}

/** first · second, in the unit named. */
export function productOf(first: UncertainProduct, second: UncertainProduct, unit: string): UncertainProduct {
  return {
    value: first.value.times(second.value),
    unit,
    components: merged([...first.components, ...second.components]),
  };
}

/** quantity^exponent for a whole exponent; −1 gives the reciprocal. */
export function powerOf(quantity: UncertainProduct, exponent: number, unit: string): UncertainProduct {
  if (!Number.isInteger(exponent)) throw new InputError("exponent", "must be a whole number");
  return {
    value: quantity.value.pow(exponent),
    unit,
    components: quantity.components.map((component) => ({
      ...component,
      relative: component.relative.times(exponent),
    })),
  };
}

/** first / second, in the unit named. */
export function quotientOf(
  first: UncertainProduct,
  second: UncertainProduct,
  unit: string,
): UncertainProduct {
  return productOf(first, powerOf(second, -1, ""), unit);
}

/** A quantity times an exact positive number, in the unit named (a conversion of units, a number of fields). */
export function scaledBy(quantity: UncertainProduct, by: string | Decimal, unit: string): UncertainProduct {
  return productOf(quantity, exactly("scale", by, ""), unit);
}

/** (u(value)/value)², all sources together. */
export function relativeVarianceOf(quantity: UncertainProduct): Decimal {
  return sumOf(quantity.components.map(({ relative }) => relative.times(relative)));
}

/** u(value)/value, all sources together. */
export function relativeUncertaintyOf(quantity: UncertainProduct): Decimal {
  return relativeVarianceOf(quantity).sqrt();
}

/** u(value) in the unit of the value. */
export function standardUncertaintyOf(quantity: UncertainProduct): Decimal {
  return quantity.value.times(relativeUncertaintyOf(quantity));
}
