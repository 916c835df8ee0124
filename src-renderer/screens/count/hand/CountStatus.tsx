import { StateMark } from "../../../parts/StateMark.tsx";
import type { CountingState } from "../state/counting-state.ts";
import type { CountingStore } from "../state/counting-store.ts";
import { useCountingPart } from "../state/use-counting-part.ts";
import styles from "./CountStrip.module.css";

const waitingOf = (state: CountingState): number => state.outbox.length;
const lostOf = (state: CountingState): boolean => state.hostLost;
const remarkOf = (state: CountingState): CountingState["remark"] => state.remark;
const storedOf = (state: CountingState): number => state.storedUpTo;

/** What is stored, what is on its way, and what the keys last had to say. */
export function CountStatus({ store }: { store: CountingStore }) {
  const waiting = useCountingPart(store, waitingOf);
  const lost = useCountingPart(store, lostOf);
  const remark = useCountingPart(store, remarkOf);
  const stored = useCountingPart(store, storedOf);
  return (
    <div className={styles.strip}>
      <p className={styles.remark} role="status">
        {remark ? (
          <span key={remark.serial}>
            <StateMark state={remark.kind === "care" ? "warn" : "good"} /> {remark.text}
          </span>
        ) : null}
      </p>
      {lost ? (
        <p className={styles.lost} role="alert">
          <StateMark state="bad" /> The program does not answer. {waiting} not stored yet: nothing is lost, it
          is tried again.
        </p>
      ) : null}
      <p className={styles.stored}>
        <span>{waiting > 0 && !lost ? `${waiting} on the way · ` : ""}</span>
        <span data-figure="stored">{stored}</span> {stored === 1 ? "act" : "acts"} stored
      </p>
    </div>
  );
}
