import type { CallName, CallOutput, ParsedInput } from "#core/contract/calls.ts";

/** Is told its own name: what it keeps under that name (`inTransactionOnce`) need not be written beside it. */
export type Handler<N extends CallName> = (
  input: ParsedInput<N>,
  call: N,
) => CallOutput<N> | Promise<CallOutput<N>>;

/** One handler for every call of the contract: a missing one does not compile. */
export type Handlers = { readonly [N in CallName]: Handler<N> };

/** The handlers of one capability. */
export type HandlersOf<N extends CallName> = Pick<Handlers, N>;

/** Handlers bound by their names alone: what each takes and answers follows from the contract. */
export function handlers<N extends CallName>(named: HandlersOf<N>): HandlersOf<N> {
  return named;
}
