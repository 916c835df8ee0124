import { type RefObject, useCallback, useEffect, useRef, useState } from "react";
import { useClient } from "../../../bridge/bridge-context.tsx";
import type { GridColumn } from "../../../grid/grid-columns.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { putOnClipboard } from "../../../parts/clipboard/put-on-clipboard.ts";
import { ownSettings } from "../../../window/own-settings.ts";
import type { SheetContext } from "../sheet-context.ts";
import { isApart } from "./copied-columns.ts";
import { type CopyPlan, copied, fetchRows, isAllHere, planCopy } from "./copy-selection.ts";

export interface LastCopied {
  readonly text: string;
  readonly columns: readonly GridColumn[];
  readonly headed: boolean;
}

export interface Copying {
  /** Answers the browser's copy. */
  readonly copy: (event: ClipboardEvent) => void;
  /** What was copied last in this window, so that it is known again when it is pasted. */
  readonly lastCopied: RefObject<LastCopied | null>;
  /** What came of the last copy, or how far it is. */
  readonly said: string | null;
  /** Says something beside the selection until the cursor moves on. */
  readonly say: (words: string) => void;
}

function rememberedOf({ state, rectangle, headed, apart }: CopyPlan, text: string): LastCopied {
  const columns = state.columns
    .slice(rectangle.fromColumn, rectangle.toColumn + 1)
    .flatMap((column) => (isApart(column, apart) ? [column, column] : [column]));
  return { text, columns, headed };
}

/** Ctrl+C in the grid: rows that are not here are fetched in portions, with the progress said, and can be given up. */
export function useCopy(store: GridStore, context: SheetContext): Copying {
  const client = useClient();
  const [said, setSaid] = useState<string | null>(null);
  const lastCopied = useRef<LastCopied | null>(null);
  const fetching = useRef<AbortController | null>(null);
  /** Fetched, but the clipboard was not open: the next press has it at once. */
  const ready = useRef<{ readonly plan: CopyPlan; readonly text: string } | null>(null);

  useEffect(() => {
    let { selection, cursor } = store.state();
    const unsubscribe = store.subscribe(() => {
      const now = store.state();
      if (now.selection === selection && now.cursor === cursor) return;
      ({ selection, cursor } = now);
      if (fetching.current === null) setSaid(null);
    });
    return () => {
      unsubscribe();
      fetching.current?.abort();
    };
  }, [store]);

  const fetchAndCopy = useCallback(
    async (plan: CopyPlan): Promise<void> => {
      const control = new AbortController();
      fetching.current?.abort();
      fetching.current = control;
      const onKeyDown = ({ key }: KeyboardEvent): void => {
        if (key === "Escape") control.abort();
      };
      window.addEventListener("keydown", onKeyDown, { capture: true });
      const report = (done: number, all: number): void =>
        setSaid(`fetching ${done} of ${all} rows to copy, Escape stops`);
      const rows = await fetchRows(plan, client, report, control.signal);
      window.removeEventListener("keydown", onKeyDown, { capture: true });
      if (fetching.current !== control) return;
      fetching.current = null;
      if (rows === null) {
        setSaid(`nothing copied: ${control.signal.aborted ? "stopped" : "the rows could not be fetched"}`);
        return;
      }
      const { text, words } = copied(plan, rows);
      lastCopied.current = rememberedOf(plan, text);
      if (await putOnClipboard(text)) setSaid(words);
      else {
        ready.current = { plan, text };
        setSaid("fetched: press Ctrl+C once more to copy");
      }
    },
    [client],
  );

  const copy = useCallback(
    (event: ClipboardEvent): void => {
      const plan = planCopy(store.state(), context, ownSettings().copiedSizes === "number and U");
      const before = ready.current;
      ready.current = null;
      const isReady =
        before !== null && JSON.stringify(before.plan.rectangle) === JSON.stringify(plan.rectangle);
      if (!isReady && !isAllHere(plan)) {
        event.preventDefault();
        void fetchAndCopy(plan);
        return;
      }
      const { text, words } = isReady ? { text: before.text, words: "copied" } : copied(plan, new Map());
      event.clipboardData?.setData("text/plain", text);
      event.preventDefault();
      lastCopied.current = rememberedOf(plan, text);
      setSaid(words);
    },
    [store, context, fetchAndCopy],
  );

  return { copy, lastCopied, said, say: setSaid };
}
