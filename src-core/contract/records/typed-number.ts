import { type DecimalText, textOfDecimal } from "../../quantity/decimal-text.ts";
import { type NumberRule, problemOfNumber, readNumber } from "../../quantity/number-rule.ts";
import { TypedNumber } from "./primitives.ts";

/*
 * Numbers that a call takes as typed and hands on as read. The rule stands here alone: the dispatcher refuses by it at the
 * field, forms show its words before anything is sent (`problemsBySchema`, `problemsOfCall`), and services get numbers
 * that keep it. For input alone: what is stored was typed under the rules of its day and stays readable.
 */

type Limits = Omit<NumberRule, "optional">;

/** The text as it was typed, of a number that the rule allows. */
export function numberAsTyped(rule: NumberRule) {
  return TypedNumber.superRefine((typed, context) => {
    const message = problemOfNumber(typed, rule);
    if (message !== null) context.addIssue({ code: "custom", message });
  });
}

/** A number in its shortest text: `40.0` and `40` are the same here. */
export function typedDecimal(limits: Limits) {
  return numberAsTyped(limits).transform(
    (typed): DecimalText => textOfDecimal(readNumber("", typed, limits).value),
  );
}

/** As `typedDecimal`; null when nothing was typed. */
export function optionalDecimal(limits: Limits) {
  return numberAsTyped({ ...limits, optional: true }).transform((typed): DecimalText | null =>
    typed.trim() === "" ? null : textOfDecimal(readNumber("", typed, limits).value),
  );
}

/** A number with all the digits that were typed. */
export function decimalAsTyped(limits: Limits) {
  return numberAsTyped(limits).transform((typed): DecimalText => readNumber("", typed, limits).text);
}

/** A whole number from 1 to `most`. */
export function typedCount(most: number) {
  const limits: Limits = { whole: true, least: 1, most };
  return numberAsTyped(limits).transform((typed) => readNumber("", typed, limits).value.toNumber());
}
