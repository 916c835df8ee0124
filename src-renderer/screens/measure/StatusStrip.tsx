import type { ReactNode } from "react";
import type { GridState } from "../../grid/grid-state.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { useGridPart } from "../../grid/use-grid-part.ts";
import { Button } from "../../parts/Button.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import styles from "./MeasureScreen.module.css";

interface Strip {
  readonly rows: number;
  readonly waiting: number;
  readonly needing: number;
  readonly hostLost: boolean;
  readonly remark: GridState["remark"];
}

const stripOf = (state: GridState): Strip => ({
  rows: state.total,
  waiting: state.outbox.length,
  needing: state.refused.size + state.halfTyped.size,
  hostLost: state.hostLost,
  remark: state.remark,
});

const same = (a: Strip, b: Strip): boolean =>
  a.rows === b.rows &&
  a.waiting === b.waiting &&
  a.needing === b.needing &&
  a.hostLost === b.hostLost &&
  a.remark === b.remark;

/** What is stored, what is not, and what the grid last had to say. */
export function StatusStrip({
  store,
  stored,
  children,
}: {
  store: GridStore;
  /** Said of what is stored in place of the number of rows. */
  stored?: string;
  children?: ReactNode;
}) {
  const { rows, waiting, needing, hostLost, remark } = useGridPart(store, stripOf, same);
  return (
    <div className={styles.strip}>
      <p className={styles.remark} role="status">
        {remark ? (
          // A new key, so that the same words are announced again.
          <span key={remark.serial}>
            <StateMark state={remark.undoable ? "none" : "warn"} /> {remark.text}
          </span>
        ) : null}
      </p>
      {remark?.undoable && waiting === 0 ? (
        <Button
          look="quiet"
          keyHint="Ctrl+Z"
          // The grid keeps the focus: the key does the same there.
          tabIndex={-1}
          onMouseDown={(event) => event.preventDefault()}
          onClick={() => store.dispatch({ type: "undo" })}
        >
          Undo
        </Button>
      ) : null}
      {hostLost ? (
        <p className={styles.lost} role="alert">
          <StateMark state="bad" /> The program does not answer. {waiting} not stored yet: nothing is lost, it
          is tried again.
        </p>
      ) : null}
      {children}
      <p className={styles.stored}>
        {needing > 0 ? `${needing} to look at (F3) · ` : ""}
        {waiting > 0 && !hostLost ? `${waiting} on the way · ` : ""}
        {stored ?? `${rows} ${rows === 1 ? "row" : "rows"} stored`}
      </p>
    </div>
  );
}
