import type { CallName, CallOutput, ParsedInput } from "#core/contract/calls.ts";

export type Handler<N extends CallName> = (input: ParsedInput<N>) => CallOutput<N> | Promise<CallOutput<N>>;

/** One handler for every call of the contract: a missing one does not compile. */
export type Handlers = { readonly [N in CallName]: Handler<N> };

/** The handlers of one capability. */
export type HandlersOf<N extends CallName> = Pick<Handlers, N>;
