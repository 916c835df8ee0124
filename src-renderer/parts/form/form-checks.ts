import type { z } from "zod";
import { type CallInput, type CallName, calls } from "#core/contract/calls.ts";
import { type NumberRule, problemOfNumber } from "#core/quantity/number-rule.ts";
import type { FieldErrors } from "./form-values.ts";

/** The first problem of each field by the contract's own schema. */
export function problemsBySchema(schema: z.ZodType, values: unknown): FieldErrors {
  const parsed = schema.safeParse(values);
  if (parsed.success) return {};
  const errors: Record<string, string> = {};
  for (const issue of parsed.error.issues) errors[issue.path.join(".")] ??= issue.message;
  return errors;
}

/** The same of what a form gives of a call's input, by the paths that the host would name. */
export function problemsOfCall<N extends CallName>(name: N, given: Partial<CallInput<N>>): FieldErrors {
  const errors = problemsBySchema(calls[name].input, given);
  const isGiven = (path: string): boolean => (path.split(".")[0] ?? "") in given;
  return Object.fromEntries(Object.entries(errors).filter(([path]) => isGiven(path)));
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
