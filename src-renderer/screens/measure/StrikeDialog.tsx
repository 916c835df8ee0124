import { useEffect, useRef, useState } from "react";
import { errorWords } from "#core/contract/reply.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import type { RowsToStrike } from "../../grid/grid-effect.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { ReasonQuestion } from "../../parts/form/ReasonQuestion.tsx";
import { Dialog } from "../../parts/layout/Dialog.tsx";

export interface StrikeDialogProps {
  readonly rows: RowsToStrike;
  readonly sheetId: string;
  readonly store: GridStore;
  readonly reasons: readonly string[];
  readonly onClose: () => void;
}

/** Asks why rows are to be struck, and strikes them; they stay on the sheet, marked, with the reason. */
export function StrikeDialog({ rows, sheetId, store, reasons, onClose }: StrikeDialogProps) {
  const client = useClient();
  const [refused, setRefused] = useState<string | null>(null);
  const request = useRef<{ readonly id: string; readonly reason: string } | null>(null);
  const isOpen = useRef(true);
  useEffect(() => {
    isOpen.current = true;
    return () => {
      isOpen.current = false;
    };
  }, []);
  const { rowId, from, to } = rows;
  const isOne = rowId !== null;
  const strike = async (reason: string): Promise<void> => {
    if (isOne) {
      store.dispatch({ type: "strike", rowId, reason });
      onClose();
      return;
    }
    if (request.current?.reason !== reason) request.current = { id: newRequestId(), reason };
    await store.until(({ outbox }) => outbox.length === 0);
    // Left meanwhile, as while the program does not answer: nothing is to be struck any more.
    if (!isOpen.current) return;
    const reply = await client("rows.strikeMany", {
      requestId: request.current.id,
      sheetId,
      rows: { from, to },
      reason,
    });
    if (!reply.ok) {
      setRefused(errorWords(reply.error));
      return;
    }
    const words = `${countedNoun(reply.value.count, "row")} struck.`;
    store.dispatch({ type: "rowsChanged", changed: reply.value, words });
    onClose();
  };
  return (
    <Dialog title={isOne ? `Strike row ${from}?` : `Strike rows ${from} to ${to}?`} onClose={onClose}>
      <ReasonQuestion
        id="strike-reason"
        reasons={reasons}
        submit={isOne ? "Strike the row" : "Strike the rows"}
        minus={isOne ? "leaves the row as it is" : "leaves the rows as they are"}
        refused={refused}
        onReason={(reason) => void strike(reason)}
        onClose={onClose}
      >
        <p>
          {isOne
            ? "It stays on the sheet, marked as struck, and counts in no statistics."
            : "They stay on the sheet, marked as struck, and count in no statistics. One undo takes all of it back; rows struck before keep their reason."}
        </p>
      </ReasonQuestion>
    </Dialog>
  );
}
