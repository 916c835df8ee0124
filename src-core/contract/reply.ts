/** What a person is told when a call is refused: what happened, to which field, what to do next. */
export interface CallError<Code extends string = string> {
  readonly code: Code;
  readonly message: string;
  /** Dotted path of the input field concerned, e.g. `lines.3.value`. */
  readonly field?: string | undefined;
  /** What to do next. */
  readonly hint?: string | undefined;
}

/** A refusal in one line: what happened, and what to do next. */
export function errorWords({ message, hint }: Pick<CallError, "message" | "hint">): string {
  return hint ? `${message} ${hint}` : message;
}

/** The answer to every call, in both hosts: plain JSON-safe data, never an exception across the border. */
export type Reply<Value, Code extends string = string> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly error: CallError<Code> };
