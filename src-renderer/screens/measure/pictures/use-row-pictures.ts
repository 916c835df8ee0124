import { type DragEvent, useCallback } from "react";
import { useCall } from "../../../bridge/use-call.ts";
import type { GridState } from "../../../grid/grid-state.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import type { PictureOwner } from "../../../parts/attachments/picture-owner.ts";
import { usePictureQuestion } from "../../../parts/attachments/use-picture-question.ts";
import { useCommand } from "../../../window/use-command.tsx";
import { ownerOfRow, rowAtHand } from "./row-at-hand.ts";

/** The head of a grid has two lines; the first row of specimens comes after them. */
const HEAD_LINES = 2;

function rowUnder({ target }: DragEvent): number | null {
  const line = target instanceof Element ? target.closest("[role=grid] tr[aria-rowindex]") : null;
  const at = Number(line?.getAttribute("aria-rowindex")) - HEAD_LINES - 1;
  return line && at >= 0 ? at : null;
}

/** False while the row of the cursor is stored and not yet read. */
const isRead = (state: GridState): boolean => state.cursor.row >= state.total || rowAtHand(state) !== null;

/** Pictures of the rows of a sheet, and the ways to attach one: by key, by paste and by drop. */
export function useRowPictures(store: GridStore, sheetId: string) {
  const say = useCallback(
    (text: string, kind: "done" | "care"): void =>
      store.dispatch({ type: "say", text, ...(kind === "done" ? { done: true } : {}) }),
    [store],
  );
  const begin = useCallback(
    (ask: (owner: PictureOwner) => void): void => {
      store.dispatch({ type: "blurred" });
      void store.until(isRead).then(() => {
        const row = rowAtHand(store.state());
        if (row) ask(ownerOfRow(row));
        else say("A picture belongs to a row: take its first reading, then attach it.", "care");
      });
    },
    [store, say],
  );
  const onPlace = (event: DragEvent): void => {
    const row = rowUnder(event);
    if (row !== null) store.dispatch({ type: "focusCell", row, column: store.state().cursor.column });
  };
  const all = useCall("attachments.ofSheet", { sheetId }).data;
  const question = usePictureQuestion({ all, begin, say, onPlace });
  useCommand("measure.pictures", () => question.ask(null));
  return question;
}
