import type { Decimal } from "./decimal.ts";
import { readDecimal, type TypedDecimal } from "./decimal-text.ts";
import { InputError } from "./input-error.ts";

/** Which numbers a field takes; ends are included. */
export interface NumberRule {
  /** May be left empty. */
  readonly optional?: boolean;
  readonly sign?: "positive" | "not negative";
  readonly whole?: boolean;
  readonly least?: number;
  readonly most?: number;
}

function whyNotOfSign(value: Decimal, { sign }: NumberRule): string | null {
  if (sign === "positive") return value.greaterThan(0) ? null : "must be greater than zero";
  return sign === "not negative" && value.lessThan(0) ? "must not be negative" : null;
}

function whyNotWithin(value: Decimal, { least, most }: NumberRule): string | null {
  const tooSmall = least !== undefined && value.lessThan(least);
  const tooLarge = most !== undefined && value.greaterThan(most);
  if (!tooSmall && !tooLarge) return null;
  if (least !== undefined && most !== undefined) return `must lie between ${least} and ${most}`;
  return tooLarge ? `is too large: at most ${most}` : `is too small: at least ${least}`;
}

/** Why a number is none of those that the rule allows, in words that read after its field; null when it is one. */
export function whyNotAllowed(value: Decimal, rule: NumberRule): string | null {
  const { whole = false, least, most } = rule;
  const notWhole = whole && !value.isInteger();
  const beyond = whyNotWithin(value, rule);
  if (whole && least !== undefined && most !== undefined) {
    return notWhole || beyond !== null ? `must be a whole number from ${least} to ${most}` : null;
  }
  return whyNotOfSign(value, rule) ?? (notWhole ? "must be a whole number" : beyond);
}

/** A typed number that the rule allows. @throws InputError `field`, also for an empty one: `optional` is the caller's */
export function readNumber(field: string, typed: string, rule: NumberRule): TypedDecimal {
  const read = readDecimal(field, typed);
  const reason = whyNotAllowed(read.value, rule);
  if (reason !== null) throw new InputError(field, reason);
  return read;
}

/** Why a typed number can't be taken, in words that read after its label; null when it can. */
export function problemOfNumber(typed: string, rule: NumberRule = {}): string | null {
  if (rule.optional && typed.trim() === "") return null;
  try {
    readNumber("number", typed, rule);
    return null;
  } catch (error) {
    if (error instanceof InputError) return error.reason;
    throw error;
  }
}
