import { useCallback, useState } from "react";
import type { RowsChanged } from "#core/contract/records/sheet.ts";
import type { LiveSheet } from "../live-sheets.ts";
import type { SheetContext } from "../sheet-context.ts";
import { guessPaste } from "./guess-paste.ts";
import { PasteDialog } from "./PasteDialog.tsx";
import type { Paste, PasteChoices, PastedLines } from "./paste-choices.ts";
import { SelectionLine } from "./SelectionLine.tsx";
import { useClipboardEvents } from "./use-clipboard-events.ts";
import { useCopy } from "./use-copy.ts";

/** Blocks of cells: what is selected, copied and pasted, with the questions that go with it. */
export function Blocks({ live, context }: { live: LiveSheet; context: SheetContext }) {
  const { store, link } = live;
  const [pasting, setPasting] = useState<{ paste: Paste; choices: PasteChoices } | null>(null);
  const copying = useCopy(store, context);
  const { lastCopied } = copying;
  const onBlock = useCallback(
    (lines: PastedLines, text: string): void => {
      const last = lastCopied.current;
      const isOurs = last !== null && !last.headed && text.replaceAll("\r\n", "\n") === last.text;
      const columns = isOurs ? last.columns : null;
      setPasting(guessPaste(lines, store.state(), context.method.definition, columns));
    },
    [store, context, lastCopied],
  );
  useClipboardEvents({ store, copy: copying.copy, onBlock });
  const entered = ({ count }: RowsChanged): string =>
    count === 0
      ? "Nothing was changed by the paste: all of it stood there already."
      : `${count} ${count === 1 ? "row" : "rows"} taken in from the paste. Ctrl+Z takes all of it back.`;
  return (
    <>
      <SelectionLine store={store} said={copying.said} />
      {pasting ? (
        <PasteDialog
          paste={pasting.paste}
          initial={pasting.choices}
          store={store}
          context={context}
          reason={() => link.amendReason}
          onEntered={(changed) => {
            setPasting(null);
            store.dispatch({ type: "rowsChanged", changed, words: entered(changed) });
          }}
          onClose={() => setPasting(null)}
        />
      ) : null}
    </>
  );
}
