import type { TraceChain } from "#core/contract/records/trace.ts";

/** From an id to a name, among the people the chain tells of. */
export function namesOf(chain: Pick<TraceChain, "people">): (id: string | null) => string {
  return (id) => (id === null ? "nobody named" : (chain.people.find((one) => one.id === id)?.name ?? id));
}
