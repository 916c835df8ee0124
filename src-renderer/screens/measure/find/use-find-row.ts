import { useState } from "react";
import type { GridStore } from "../../../grid/grid-store.ts";
import { useCommand } from "../../../window/use-command.tsx";
import type { SheetContext } from "../sheet-context.ts";
import type { SeenRow } from "../sheet-summary.ts";
import type { SummaryFeed } from "../summary-feed.ts";
import { nextFlagged } from "./found-rows.ts";

/** The keys that go to a row of the sheet: by number, label or flag. */
export function useFindRow(store: GridStore, feed: SummaryFeed, context: SheetContext) {
  const [isOpen, setOpen] = useState(false);
  const dimensions = context.method.definition.dimensions.map(({ key }) => key);
  const rows = (): Iterable<SeenRow> => feed.summary.seen(dimensions);
  const goTo = (ordinal: number): void => {
    store.dispatch({ type: "focusCell", row: ordinal - 1, column: store.state().cursor.column });
  };
  useCommand("cells.find", () => setOpen(true));
  useCommand("cells.flagged", () => {
    const row = nextFlagged(rows(), store.state().cursor.row + 1);
    if (row) goTo(row.ordinal);
    else store.dispatch({ type: "say", text: "No row of this sheet is flagged." });
  });
  return {
    isOpen,
    rows,
    close: () => setOpen(false),
    go: (ordinal: number): void => {
      setOpen(false);
      goTo(ordinal);
      // The dialog gives the focus back to the cell it was opened from; it belongs to the row found.
      setTimeout(() => document.querySelector<HTMLElement>("[role=grid] [data-active-cell]")?.focus(), 0);
    },
  };
}
