import { ColumnHandle } from "./ColumnHandle.tsx";
import { widthOf } from "./column-widths.ts";
import styles from "./EntryGrid.module.css";
import type { GridModel } from "./grid-model.ts";
import type { WidthsGiven } from "./use-column-widths.ts";

/** The two heading rows: dimensions over their columns, each with the line that makes it wider. */
export function GridHead({ model, widths, onWidth }: WidthsGiven & { readonly model: GridModel }) {
  return (
    <thead className={styles.head}>
      <tr aria-rowindex={1} className={styles.headRow}>
        {model.groups.map((group) => (
          <th
            key={group.from}
            scope="colgroup"
            aria-colindex={group.from + 1}
            aria-colspan={group.count}
            className={styles.groupHead}
            style={{ gridColumn: `${group.from + 1} / span ${group.count}` }}
          >
            <span>{group.title}</span>
          </th>
        ))}
      </tr>
      <tr aria-rowindex={2} className={styles.headRow}>
        {headed(model).map(({ column, head }, at) => (
          <th
            key={column.key}
            scope="col"
            aria-colindex={at + 1}
            aria-label={head.spoken}
            className={styles.columnHead}
            data-kind={column.kind}
          >
            {head.title}
            <ColumnHandle
              name={head.spoken}
              width={widthOf(column, head, widths)}
              onWidth={(width) => onWidth(column.key, width)}
            />
          </th>
        ))}
      </tr>
    </thead>
  );
}

function headed({ columns, heads }: GridModel) {
  return columns.flatMap((column, at) => {
    const head = heads[at];
    return head ? [{ column, head }] : [];
  });
}
