import { useEffect, useRef } from "react";
import { type GridState, recordAt, rowCount } from "../../grid/grid-state.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommand } from "../../window/use-command.tsx";

interface ResultAt {
  readonly rowId: string;
  readonly dimension: string;
}

/** The result at the cursor; on a row without one the nearest above; null where there is none yet. */
export function resultAtCursor(state: GridState): ResultAt | null {
  const column = state.columns[state.cursor.column];
  const wanted = column && "dimension" in column ? column.dimension : null;
  for (let index = Math.min(state.cursor.row, rowCount(state) - 1); index >= 0; index -= 1) {
    const record = recordAt(state, index);
    const sizes = [...(record?.measurements ?? []), ...(record?.elsewhere?.sizes ?? [])];
    const found = sizes.find((one) => one.dimension === wanted) ?? sizes[0];
    if (record && found) return { rowId: record.id, dimension: found.dimension };
  }
  return null;
}

/** Rows above the cursor are not all here yet: what is above may still hold a result. */
function isBeingRead(state: GridState): boolean {
  const stored = Math.min(state.cursor.row, state.total - 1);
  return stored >= 0 && !recordAt(state, stored);
}

/**
 * Hands over the result at the cursor: at once, or when the rows that are still being read have come.
 *
 * @returns stops the waiting; null where there is no result and none to come
 */
export function followToResult(store: GridStore, open: (result: ResultAt) => void): (() => void) | null {
  const result = resultAtCursor(store.state());
  if (result) {
    open(result);
    return () => undefined;
  }
  if (!isBeingRead(store.state())) return null;
  const stop = store.subscribe(() => {
    if (isBeingRead(store.state())) return;
    stop();
    const found = resultAtCursor(store.state());
    if (found) open(found);
  });
  return stop;
}

/** F9 in the entry grid opens the chain behind the result at the cursor. */
export function useTraceKey(store: GridStore): void {
  const navigation = useNavigation();
  const stop = useRef<(() => void) | null>(null);
  useEffect(() => () => stop.current?.(), []);
  useCommand("measure.trace", () => {
    stop.current?.();
    stop.current = followToResult(store, (result) =>
      navigation.go({ screen: "trace", result, subject: null }),
    );
    return stop.current !== null;
  });
}
