import { InputError } from "../../quantity/input-error.ts";
import type { StoppingRule } from "../../vocabulary/counting.ts";
import type { Provenance } from "../../vocabulary/provenance.ts";

/** A rule with its name and where it comes from; kept by a counting method. */
export interface NamedStoppingRule extends Provenance {
  readonly id: string;
  readonly name: string;
  readonly rule: StoppingRule;
}

const DEEPEST = 5;

function requireNumbers(field: string, rule: Exclude<StoppingRule, { kind: "all" | "any" }>): void {
  if (rule.kind === "interval") {
    if (!(rule.relativeHalfWidth > 0 && rule.relativeHalfWidth <= 2)) {
      throw new InputError(`${field}.relativeHalfWidth`, "must be greater than 0 and at most 2 (200 %)");
    }
    if (!(rule.level > 0 && rule.level < 1)) {
      throw new InputError(`${field}.level`, "must be greater than 0 and less than 1");
    }
    return;
  }
  if (!(rule.atLeast > 0 && rule.atLeast < Number.MAX_SAFE_INTEGER)) {
    throw new InputError(`${field}.atLeast`, "must be greater than zero");
  }
  if (rule.kind === "units" && rule.classes?.length === 0) {
    throw new InputError(`${field}.classes`, "must name at least one class, or be left out for all");
  }
}

/**
 * Checks a rule a person has put together.
 * @throws InputError naming the part that makes no sense
 */
export function requireStoppingRule(rule: StoppingRule, field = "rule", depth = 1): void {
  if (rule.kind !== "all" && rule.kind !== "any") {
    requireNumbers(field, rule);
    return;
  }
  if (rule.rules.length === 0) throw new InputError(`${field}.rules`, "must not be empty");
  if (depth >= DEEPEST)
    throw new InputError(`${field}.rules`, `must not be nested more than ${DEEPEST} deep`);
  rule.rules.forEach((part, index) => {
    requireStoppingRule(part, `${field}.rules.${index}`, depth + 1);
  });
}
