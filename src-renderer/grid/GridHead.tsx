import styles from "./EntryGrid.module.css";
import type { GridModel } from "./grid-model.ts";

/** The two heading rows: dimensions over their columns. */
export function GridHead({ model, template }: { model: GridModel; template: string }) {
  return (
    <thead className={styles.head}>
      <tr aria-rowindex={1} className={styles.headRow} style={{ gridTemplateColumns: template }}>
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
      <tr aria-rowindex={2} className={styles.headRow} style={{ gridTemplateColumns: template }}>
        {model.columns.map((column, at) => (
          <th
            key={column.key}
            scope="col"
            aria-colindex={at + 1}
            aria-label={model.heads[at]?.spoken}
            className={styles.columnHead}
            data-kind={column.kind}
          >
            {model.heads[at]?.title}
          </th>
        ))}
      </tr>
    </thead>
  );
}
