import { useCallback, useState } from "react";
import type { RowsChanged } from "#core/contract/records/sheet.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { GridState } from "../../../grid/grid-state.ts";
import { selectedRectangle } from "../../../grid/selection.ts";
import { useCommand } from "../../../window/use-command.tsx";
import type { LiveSheet } from "../live-sheets.ts";
import type { SheetContext } from "../sheet-context.ts";
import { guessPaste } from "./guess-paste.ts";
import { PasteDialog } from "./PasteDialog.tsx";
import type { Paste, PasteChoices, PastedLines } from "./paste-choices.ts";
import { RowsObjectiveDialog, type StoredRows } from "./RowsObjectiveDialog.tsx";
import { SelectionLine } from "./SelectionLine.tsx";
import { useClipboardEvents } from "./use-clipboard-events.ts";
import { useCopy } from "./use-copy.ts";

/** The stored rows of the selection, or that of the cursor; null when none of them is stored. */
function storedRows(state: GridState): StoredRows | null {
  const { fromRow, toRow } = selectedRectangle(state) ?? {
    fromRow: state.cursor.row,
    toRow: state.cursor.row,
  };
  const to = Math.min(toRow, state.total - 1);
  return fromRow <= to ? { from: fromRow + 1, to: to + 1 } : null;
}

/** Blocks of cells: what is selected, copied and pasted, with the questions that go with it. */
export function Blocks({
  live,
  context,
  onPicture,
}: {
  live: LiveSheet;
  context: SheetContext;
  onPicture: (file: File) => void;
}) {
  const { store, link } = live;
  const [pasting, setPasting] = useState<{ paste: Paste; choices: PasteChoices } | null>(null);
  const copying = useCopy(store, context);
  const { lastCopied, say } = copying;
  const [moving, setMoving] = useState<StoredRows | null>(null);
  useCommand("measure.rowsObjective", () => {
    const rows = storedRows(store.state());
    store.dispatch({ type: "blurred" });
    if (rows) setMoving(rows);
    else say("No saved row selected. Press / to set the objective for new readings.");
  });
  const onBlock = useCallback(
    (lines: PastedLines, text: string): void => {
      const last = lastCopied.current;
      const isOurs = last !== null && !last.headed && text.replaceAll("\r\n", "\n") === last.text;
      const columns = isOurs ? last.columns : null;
      setPasting(guessPaste(lines, store.state(), context.method.definition, columns));
    },
    [store, context, lastCopied],
  );
  useClipboardEvents({ store, copy: copying.copy, onBlock, onPicture });
  const entered = ({ count }: RowsChanged): string =>
    count === 0
      ? "Nothing was changed by the paste: all of it stood there already."
      : `${countedNoun(count, "row")} taken in from the paste.`;
  return (
    <>
      <SelectionLine store={store} said={copying.said} />
      {pasting ? (
        <PasteDialog
          paste={pasting.paste}
          initial={pasting.choices}
          store={store}
          context={context}
          reason={link.amendReason}
          onEntered={(changed) => {
            setPasting(null);
            store.dispatch({ type: "rowsChanged", changed, words: entered(changed) });
          }}
          onClose={() => setPasting(null)}
        />
      ) : null}
      {moving ? (
        <RowsObjectiveDialog
          rows={moving}
          store={store}
          context={context}
          onChanged={(changed, objective) => {
            setMoving(null);
            store.dispatch({ type: "rowsChanged", changed, words: movedWords(changed, objective) });
          }}
          onClose={() => setMoving(null)}
        />
      ) : null}
    </>
  );
}

function movedWords({ count }: RowsChanged, objective: string): string {
  if (count === 0) return `Nothing was changed: measured with ${objective} already.`;
  return `${count === 1 ? "One row is" : `${count} rows are`} now measured with ${objective}.`;
}
