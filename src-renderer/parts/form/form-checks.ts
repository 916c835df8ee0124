import type { z } from "zod";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { FieldErrors } from "./form-values.ts";

/** The first problem of each field by the contract's own schema. */
export function problemsBySchema(schema: z.ZodType, values: unknown): FieldErrors {
  const parsed = schema.safeParse(values);
  if (parsed.success) return {};
  const errors: Record<string, string> = {};
  for (const issue of parsed.error.issues) errors[issue.path.join(".")] ??= issue.message;
  return errors;
}

export interface NumberRule {
  /** May be left empty. */
  readonly optional?: boolean;
  readonly sign?: "positive" | "not negative";
  readonly whole?: boolean;
}

/** Why a typed number can't be taken, in words that read after its label; null when it can. */
export function problemOfNumber(typed: string, rule: NumberRule = {}): string | null {
  if (rule.optional && typed.trim() === "") return null;
  try {
    const { value } = readDecimal("number", typed);
    if (rule.sign === "positive" && !value.greaterThan(0)) return "must be greater than zero";
    if (rule.sign === "not negative" && value.lessThan(0)) return "must not be negative";
    if (rule.whole && !value.isInteger()) return "must be a whole number";
    return null;
  } catch (error) {
    if (error instanceof InputError) return error.reason;
    throw error;
  }
}

/** Problems of several typed numbers by their paths. */
export function problemsOfNumbers(
  numbers: readonly (readonly [path: string, typed: string, rule?: NumberRule])[],
): FieldErrors {
  const errors: Record<string, string> = {};
  for (const [path, typed, rule] of numbers) {
    const problem = problemOfNumber(typed, rule);
    if (problem) errors[path] = problem;
  }
  return errors;
}
