import type { CallName, CallRefusal } from "#core/contract/calls.ts";

export interface RefusalDetail {
  /** Dotted path of the input field concerned. */
  readonly field?: string | undefined;
  /** What to do next. */
  readonly hint?: string | undefined;
}

/** A code that some call of the contract declares. */
export type RefusalCode = CallRefusal<CallName>;

/** A call cannot be done, for a reason the person can act on; `message` is a whole sentence. */
export class Refusal extends Error {
  readonly code: RefusalCode | "input.invalid";
  readonly field: string | undefined;
  readonly hint: string | undefined;

  constructor(code: RefusalCode | "input.invalid", message: string, detail: RefusalDetail = {}) {
    super(message);
    this.name = "Refusal";
    this.code = code;
    this.field = detail.field;
    this.hint = detail.hint;
  }
}
