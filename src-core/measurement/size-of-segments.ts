import { decimal, ONE, sumOf } from "../quantity/decimal.ts";
import { requireCount, requireNotNegative } from "../quantity/input-error.ts";
import { closeBudget } from "../uncertainty/budget.ts";
import type { SizeInput, SizeResult } from "./size.ts";
import { sizeOfDivisions } from "./size-of-divisions.ts";

/**
 * Length of an object measured in parts: along a curve, or longer than the scale. `divisions` are the parts, each read
 * at both of its ends, div.
 *
 * The factor is one error on the whole length; every part has its own readings, so repeatability and estimation add up
 * with √m over m parts; edges count at the two outer ends only. Chords across a curve are always too short: more parts
 * bring the sum nearer the curve, and this is not in the budget.
 * @throws InputError `divisions.N`, `factor.<key>` or `reading.<key>`
 */
export function sizeOfSegments(input: SizeInput): SizeResult {
  requireCount("divisions", input.divisions, 1);
  input.divisions.forEach((part, i) => {
    requireNotNegative(`divisions.${i}`, part);
  });
  const total = sumOf(input.divisions);
  const whole = sizeOfDivisions({ ...input, divisions: [total] });
  const root = decimal(input.divisions.length).sqrt();
  const perPart = ["repeatability", "reading-left", "reading-right"];
  const entries = whole.budget.map(({ contribution, share, ...entry }) => ({
    ...entry,
    standardUncertainty: perPart.includes(entry.key)
      ? entry.standardUncertainty.times(root)
      : entry.standardUncertainty,
    divisor: entry.key === "repeatability" ? ONE.div(root) : entry.divisor,
  }));
  const budget = closeBudget(entries, input.coverage);
  return {
    divisions: total,
    size: whole.size,
    budget: budget.components,
    uncertainty: budget.uncertainty,
  };
}
