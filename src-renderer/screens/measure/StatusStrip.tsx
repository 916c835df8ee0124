import type { ReactNode } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { GridState } from "../../grid/grid-state.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { useLivePart } from "../../live/use-live-part.ts";
import { Button } from "../../parts/Button.tsx";
import { LiveStatus } from "../../parts/LiveStatus.tsx";

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
  const { rows, waiting, needing, hostLost, remark } = useLivePart(store, stripOf, same);
  return (
    <LiveStatus
      remark={remark && { serial: remark.serial, text: remark.text, isDone: remark.done }}
      waiting={waiting}
      hostLost={hostLost}
      stored={stored ?? `${countedNoun(rows, "row")} stored`}
      toLookAt={needing > 0 ? `${needing} to look at (F3) · ` : ""}
      act={
        remark?.undoable && waiting === 0 ? (
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
        ) : null
      }
    >
      {children}
    </LiveStatus>
  );
}
