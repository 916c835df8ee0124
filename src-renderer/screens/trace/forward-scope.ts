import type { CallInput } from "#core/contract/calls.ts";

/** What a look forward covers: the doubted thing, the days between, the replacement considered. */
export type Scope = CallInput<"trace.forward">;
