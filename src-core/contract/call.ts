import { z } from "zod";
import type { Tag } from "./tags.ts";

/** Codes a person can act on. Every other failure is a numbered fault. */
export type ErrorCode = string;

interface Schemas<I extends z.ZodType, O extends z.ZodType, E extends string> {
  readonly input: I;
  readonly output: O;
  /** Codes this call may answer beside the general ones of `GENERAL_ERRORS`. */
  readonly errors: readonly E[];
}

/** Runs on a readable connection. */
export interface ReadTags<R extends readonly Tag[]> {
  readonly kind: "read";
  /** What its answer rests on; none for an act on files and for an answer of the moment, which no window keeps. */
  readonly reads: R;
  /** What it changes outside the database. */
  readonly changes?: readonly [Tag, ...Tag[]];
}

/** Runs inside one immediate transaction or after its own. */
export interface WriteTags {
  readonly kind: "write";
  /** What it can change, also later and in the background. */
  readonly changes: readonly [Tag, ...Tag[]];
  readonly reads?: never;
}

export type CallDefinition<
  I extends z.ZodType = z.ZodType,
  O extends z.ZodType = z.ZodType,
  E extends string = string,
  T extends ReadTags<readonly Tag[]> | WriteTags = ReadTags<readonly Tag[]> | WriteTags,
> = Schemas<I, O, E> & T;

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

/** Declares one call; the identity function, so that its schemas and tags keep their exact types. */
export function call<
  I extends z.ZodType,
  O extends z.ZodType,
  const E extends string,
  const R extends readonly Tag[],
>(definition: CallDefinition<I, O, E, ReadTags<R>>): CallDefinition<I, O, E, ReadTags<R>>;
export function call<I extends z.ZodType, O extends z.ZodType, const E extends string>(
  definition: CallDefinition<I, O, E, WriteTags>,
): CallDefinition<I, O, E, WriteTags>;
export function call(definition: CallDefinition): CallDefinition {
  return Object.freeze(definition);
}

/** The input of a call that needs none. */
export const Nothing = z.strictObject({});
