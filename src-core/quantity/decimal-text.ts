import { Decimal } from "./decimal.ts";
import { InputError } from "./input-error.ts";

declare const decimalTextBrand: unique symbol;

/** Canonical text of a decimal: optional minus, digits, optional point and digits (`-12.50`). Trailing zeros are kept. */
export type DecimalText = string & { readonly [decimalTextBrand]: true };

/** The longest number a person can sensibly type; longer text is refused before it is looked at. */
export const LONGEST_TYPED_NUMBER = 40;

const TYPED = /^([-−]?)(\d*)(?:[.,](\d*))?$/;
const CANONICAL = /^-?\d+(\.\d+)?$/;

export interface TypedDecimal {
  /** The text exactly as typed. */
  readonly typed: string;
  readonly text: DecimalText;
  readonly value: Decimal;
  /** Digits after the decimal mark as typed: 0 for `40`, 1 for `40.0`. */
  readonly places: number;
}

function whyUnreadable(trimmed: string): string {
  if (trimmed === "") return "is empty: type a number";
  if (/[eE]/.test(trimmed) && /\d/.test(trimmed)) return "must be written out, without an exponent";
  if (/[.,].*[.,]/.test(trimmed)) return "has more than one decimal mark";
  if (/\s/.test(trimmed)) return "has a space inside the number";
  if (/[^\d.,\-−]/.test(trimmed))
    return `has a character that is not part of a number: “${/[^\d.,\-−]/u.exec(trimmed)?.[0]}”`;
  return "is not a number";
}

/**
 * Reads a number as a person types it: point or comma as decimal mark, no exponent, no thousands separator.
 * @throws InputError naming `field` when the text is not such a number or is longer than 40 characters
 */
export function readDecimal(field: string, typed: string): TypedDecimal {
  if (typed.length > LONGEST_TYPED_NUMBER) {
    throw new InputError(field, `is too long: a number may have at most ${LONGEST_TYPED_NUMBER} characters`);
  }
  const trimmed = typed.trim();
  const match = TYPED.exec(trimmed);
  const whole = match?.[2] ?? "";
  const fraction = match?.[3] ?? "";
  if (!match || (whole === "" && fraction === "")) throw new InputError(field, whyUnreadable(trimmed));
  const sign = match[1] ? "-" : "";
  const text = `${sign}${whole === "" ? "0" : whole}${fraction === "" ? "" : `.${fraction}`}` as DecimalText;
  return { typed, text, value: new Decimal(text), places: fraction.length };
}

/** True for text that `readDecimal` takes. */
export function isTypedNumber(text: string): boolean {
  try {
    readDecimal("text", text);
    return true;
  } catch {
    return false;
  }
}

/** Why text that is still being typed can no longer become a number; null while it can, and while it is empty. */
export function whyNoNumber(typed: string): string | null {
  const trimmed = typed.trim();
  return TYPED.test(trimmed) ? null : whyUnreadable(trimmed);
}

/** The decimal behind stored canonical text. @throws InputError when the text is not canonical */
export function decimalOfText(field: string, text: string): Decimal {
  if (!CANONICAL.test(text)) throw new InputError(field, `is not a stored decimal: “${text.slice(0, 40)}”`);
  return new Decimal(text);
}

/** Canonical text of a computed value, all its digits. @throws InputError when it is not finite */
export function textOfDecimal(value: Decimal): DecimalText {
  if (!value.isFinite()) throw new InputError("value", "is not a finite number");
  return value.toFixed() as DecimalText;
}
