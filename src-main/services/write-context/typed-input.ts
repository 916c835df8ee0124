import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { type DecimalText, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { readNumber } from "#core/quantity/number-rule.ts";

/** A typed number between two limits, all its digits kept. */
export function readBetween(field: string, typed: string, least: number, most: number): DecimalText {
  return readNumber(field, typed, { least, most }).text;
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
