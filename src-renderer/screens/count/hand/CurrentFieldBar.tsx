import { useLivePart } from "../../../live/use-live-part.ts";
import { StateMark } from "../../../parts/StateMark.tsx";
import { type CountingState, EMPTY_FIELD, totalIn } from "../state/counting-state.ts";
import type { CountingStore } from "../state/counting-store.ts";
import { objects } from "../words.ts";
import styles from "./CountStrip.module.css";
import { NUMBER_CODE, type PadPrefix } from "./counting-keys.ts";

const totalOf = (state: CountingState): number => totalIn(state.sums, state.count);
const inFieldOf = (state: CountingState): number => totalIn(state.fields.at(-1) ?? EMPTY_FIELD, state.count);
const hasNotBegun = ({ count, storedUpTo }: CountingState): boolean =>
  storedUpTo === 0 && count.secondsBefore === 0;
const fieldOf = (state: CountingState): number => state.fields.length;

/** What the hand has counted, in figures to be read from a metre, and what the next key will do. */
export function CurrentFieldBar({
  store,
  prefix,
  interrupted,
}: {
  store: CountingStore;
  prefix: PadPrefix;
  /** Left running by a crash or another window. */
  interrupted: boolean;
}) {
  const total = useLivePart(store, totalOf);
  const inField = useLivePart(store, inFieldOf);
  const field = useLivePart(store, fieldOf);
  const state = useLivePart(store, (one) => one.count.state);
  const waits = useLivePart(store, hasNotBegun);
  return (
    <div className={styles.band}>
      <dl className={styles.figure} data-size="large">
        <dt>Total</dt>
        <dd data-figure="total">{objects(total)}</dd>
      </dl>
      <dl className={styles.figure}>
        <dt>In this field</dt>
        <dd data-figure="in-field">{objects(inField)}</dd>
      </dl>
      <dl className={styles.figure}>
        <dt>Field</dt>
        <dd data-figure="field">{field}</dd>
      </dl>
      <p className={styles.armed} data-state={state}>
        {state === "counting" && !interrupted ? (
          <Armed prefix={prefix} />
        ) : (
          <Resting field={field} interrupted={interrupted} waits={waits} />
        )}
      </p>
    </div>
  );
}

function Resting({ field, interrupted, waits }: { field: number; interrupted: boolean; waits: boolean }) {
  const before = interrupted ? "Paused when you left. Nothing is lost." : "Paused: keys are not taken.";
  return (
    <>
      <StateMark state="warn" /> {before}{" "}
      {waits && !interrupted ? "F7 begins the count." : `F7 resumes at field ${field}.`}
    </>
  );
}

function Armed({ prefix }: { prefix: PadPrefix }) {
  if (prefix.kind === "half") return <strong className={styles.prefix}>½ of …</strong>;
  if (prefix.kind === "number") {
    return (
      <strong className={styles.prefix} data-code={NUMBER_CODE}>
        {prefix.typed === "" ? "number …" : `${prefix.typed} of …`}
        <span className={styles.soft}>{prefix.complete ? " press its key" : " + ends the number"}</span>
      </strong>
    );
  }
  return (
    <>
      <StateMark state="good" /> Counting.
    </>
  );
}
