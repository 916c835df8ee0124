import type { CallOutput } from "#core/contract/calls.ts";
import { StateMark } from "../../parts/StateMark.tsx";
import styles from "./RecordsTab.module.css";

type State = CallOutput<"sheets.states">[number];

/** Open, closed, reviewed or signed; and when a signature has to be given again. */
export function SheetStateWords({ state }: { state: State | undefined }) {
  if (!state) return <>open</>;
  return (
    <span className={styles.state}>
      <StateMark state={state.asksForSignature ? "warn" : state.state === "signed" ? "good" : "none"} />
      {state.asksForSignature ? `${state.state}, sign again` : state.state}
    </span>
  );
}
