import type { Decimal } from "./decimal.ts";

/**
 * Bad input to a function of src-core: names the field and says, in words for a person, what is wrong with it.
 * `field` is a dotted path such as `settings.2.reticleRight`; `reason` reads after the field's name.
 */
export class InputError extends Error {
  readonly field: string;
  readonly reason: string;

  constructor(field: string, reason: string) {
    super(`${field}: ${reason}`);
    this.name = "InputError";
    this.field = field;
    this.reason = reason;
  }
}

/** @throws InputError when the value is NaN or infinite */
export function requireFinite(field: string, value: Decimal): Decimal {
  if (!value.isFinite()) throw new InputError(field, "is not a finite number");
  return value;
}

/** @throws InputError when the value is not finite or not greater than zero */
export function requirePositive(field: string, value: Decimal): Decimal {
  requireFinite(field, value);
  if (!value.greaterThan(0)) throw new InputError(field, "must be greater than zero");
  return value;
}

/** @throws InputError when the value is not finite or is below zero */
export function requireNotNegative(field: string, value: Decimal): Decimal {
  requireFinite(field, value);
  if (value.lessThan(0)) throw new InputError(field, "must not be negative");
  return value;
}

/** @throws InputError when the list has fewer than `least` members */
export function requireCount(field: string, values: readonly unknown[], least: number): void {
  if (values.length < least) {
    throw new InputError(
      field,
      least === 1 ? "must not be empty" : `needs at least ${least} values, got ${values.length}`,
    );
  }
}
