import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { type DecimalText, readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { InputError, requirePositive } from "#core/quantity/input-error.ts";

/** A typed number greater than zero and at most `most`, in its shortest text: `40.0` and `40` are the same here. */
export function readPositive(field: string, typed: string, most: number): DecimalText {
  const value = requirePositive(field, readDecimal(field, typed).value);
  if (value.greaterThan(most)) throw new InputError(field, `is too large: at most ${most}`);
  return textOfDecimal(value);
}

/** As `readPositive`; null when nothing was typed. */
export function readOptionalPositive(field: string, typed: string, most: number): DecimalText | null {
  return typed.trim() === "" ? null : readPositive(field, typed, most);
}

/** A typed whole number from 1 to `most`. */
export function readCount(field: string, typed: string, most: number): number {
  const value = readDecimal(field, typed).value;
  if (!value.isInteger() || value.lessThan(1) || value.greaterThan(most)) {
    throw new InputError(field, `must be a whole number from 1 to ${most}`);
  }
  return value.toNumber();
}

/** A typed number between two limits, all its digits kept. */
export function readBetween(field: string, typed: string, least: number, most: number): DecimalText {
  const { value, text } = readDecimal(field, typed);
  if (value.lessThan(least) || value.greaterThan(most)) {
    throw new InputError(field, `must lie between ${least} and ${most}`);
  }
  return text;
}

/** Runs a function of the core and names its fields as the call's input does. */
export function withFieldPrefix<T>(path: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${path}.${error.field}`, error.reason);
    throw error;
  }
}

/** Product of a stored decimal and a constant, as text. */
export function scaled(text: DecimalText, by: Decimal | number): DecimalText {
  return textOfDecimal(decimal(text).times(by));
}
