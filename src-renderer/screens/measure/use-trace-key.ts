import { type GridState, recordAt, rowCount } from "../../grid/grid-state.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommand } from "../../window/use-command.tsx";

/** The result at the cursor; on a row without one the nearest above; null where there is none yet. */
export function resultAtCursor(state: GridState): { rowId: string; dimension: string } | null {
  const column = state.columns[state.cursor.column];
  const wanted = column && "dimension" in column ? column.dimension : null;
  for (let index = Math.min(state.cursor.row, rowCount(state) - 1); index >= 0; index -= 1) {
    const record = recordAt(state, index);
    const found =
      record?.measurements.find((one) => one.dimension === wanted) ?? (record?.measurements[0] || undefined);
    if (record && found) return { rowId: record.id, dimension: found.dimension };
  }
  return null;
}

/** F9 in the entry grid opens the chain behind the result at the cursor. */
export function useTraceKey(store: GridStore): void {
  const navigation = useNavigation();
  useCommand("measure.trace", () => {
    const result = resultAtCursor(store.state());
    if (!result) return false;
    navigation.go({ screen: "trace", result, subject: null });
    return true;
  });
}
