import { useLivePart } from "../../../live/use-live-part.ts";
import { LiveStatus } from "../../../parts/LiveStatus.tsx";
import type { CountingState } from "../state/counting-state.ts";
import type { CountingStore } from "../state/counting-store.ts";

const waitingOf = (state: CountingState): number => state.outbox.length;
const lostOf = (state: CountingState): boolean => state.hostLost;
const remarkOf = (state: CountingState): CountingState["remark"] => state.remark;
const storedOf = (state: CountingState): number => state.storedUpTo;

/** What is stored, what is on its way, and what the keys last had to say. */
export function CountStatus({ store }: { store: CountingStore }) {
  const waiting = useLivePart(store, waitingOf);
  const lost = useLivePart(store, lostOf);
  const remark = useLivePart(store, remarkOf);
  const stored = useLivePart(store, storedOf);
  return (
    <LiveStatus
      remark={remark && { serial: remark.serial, text: remark.text, isDone: remark.kind === "note" }}
      waiting={waiting}
      hostLost={lost}
      stored={
        <>
          <span data-figure="stored">{stored}</span> {stored === 1 ? "act" : "acts"} stored
        </>
      }
    />
  );
}
