import { useCallback, useMemo, useState } from "react";
import { type ColumnWidths, columnLayout, possibleWidth, widthOf, widthStepOf } from "./column-widths.ts";
import type { GridModel } from "./grid-model.ts";
import type { GridStore } from "./grid-store.ts";
import type { KeyFacts } from "./key-facts.ts";

export interface WidthsGiven {
  readonly widths: ColumnWidths;
  /** null: the usual width again. */
  readonly onWidth: (key: string, width: number | null) => void;
}

/** Where the columns stand, and the keys that widen the one of the cursor; `said` tells of it. */
export function useColumnWidths(store: GridStore, model: GridModel, { widths, onWidth }: WidthsGiven) {
  const [said, setSaid] = useState("");
  const layout = useMemo(() => columnLayout(model.columns, model.heads, widths), [model, widths]);
  const takesWidthKey = useCallback(
    (facts: KeyFacts): boolean => {
      const by = widthStepOf(facts);
      if (by === 0) return false;
      const at = store.state().cursor.column;
      const column = model.columns[at];
      const head = model.heads[at];
      if (!column || !head) return true;
      const width = possibleWidth(widthOf(column, head, widths) + by);
      onWidth(column.key, width);
      setSaid(`${head.spoken}: width ${width}`);
      return true;
    },
    [store, model, widths, onWidth],
  );
  return { layout, takesWidthKey, said };
}
