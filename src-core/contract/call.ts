import { z } from "zod";

/** Codes a person can act on. Every other failure is a numbered fault. */
export type ErrorCode = string;

export interface CallDefinition<
  I extends z.ZodType = z.ZodType,
  O extends z.ZodType = z.ZodType,
  E extends string = string,
> {
  /** `read` runs on a readable connection, `write` inside one immediate transaction or after its own. */
  readonly kind: "read" | "write";
  readonly input: I;
  readonly output: O;
  /** Codes this call may answer beside the general ones of `GENERAL_ERRORS`. */
  readonly errors: readonly E[];
}

/**
 * Codes any call may answer: `input.invalid` (a field has the wrong shape or value; `field` names it),
 * `access.refused` (sender or token), `call.unknown`, `bench.unwritable` (the machine failed: full disk, lost folder,
 * damaged file; nothing was stored), `fault` (a defect of ours, logged under the number in the message), `host.lost`
 * (made by the client when the host does not answer, and by a bench that has been closed).
 */
export const GENERAL_ERRORS = [
  "input.invalid",
  "access.refused",
  "call.unknown",
  "bench.unwritable",
  "fault",
  "host.lost",
] as const;
export type GeneralError = (typeof GENERAL_ERRORS)[number];

/** Declares one call; the identity function, so that its schemas keep their exact types. */
export function call<I extends z.ZodType, O extends z.ZodType, const E extends string>(
  definition: CallDefinition<I, O, E>,
): CallDefinition<I, O, E> {
  return Object.freeze(definition);
}

/** The input of a call that needs none. */
export const Nothing = z.strictObject({});
