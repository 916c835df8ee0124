import type { ReactNode } from "react";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { classNames } from "./class-names.ts";
import styles from "./DataTable.module.css";

export interface Column<Row> {
  readonly key: string;
  readonly title: ReactNode;
  readonly cell: (row: Row) => ReactNode;
  /** Numbers are set in tabular figures at the right, those below zero with a true minus. */
  readonly number?: boolean;
  /** Short text such as a date that is never broken. */
  readonly unbroken?: boolean;
  /** Several words: kept wide enough that they are not set one to a line. */
  readonly words?: boolean;
  /** The table is ordered by this column. */
  readonly sorted?: "ascending" | "descending";
  /** The column that names the row. */
  readonly names?: boolean;
}

export interface DataTableProps<Row> {
  readonly caption: string;
  readonly captionHidden?: boolean;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly rowKey: (row: Row) => string;
  /** Words when there are no rows. */
  readonly empty: string;
  /** Set on the row that is shown elsewhere on the screen. */
  readonly current?: string | null;
}

/** A table to read: semantic, with a caption and row headings, never edited in place. */
export function DataTable<Row>(props: DataTableProps<Row>) {
  const { caption, captionHidden = false, columns, rows, rowKey, empty, current } = props;
  if (rows.length === 0) return <p className={styles.empty}>{empty}</p>;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table must scroll by keyboard
    <section className={styles.scroll} aria-label={caption} tabIndex={0}>
      <table className={styles.table}>
        <caption className={classNames(styles.caption, captionHidden && styles.hidden)}>{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.key} scope="col" aria-sort={column.sorted} className={classOf(column)}>
                {column.title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => {
            const key = rowKey(row);
            return (
              <tr key={key} aria-current={current === key ? "true" : undefined}>
                {columns.map((column) =>
                  column.names ? (
                    <th key={column.key} scope="row" className={classOf(column)}>
                      {shownCell(column, row)}
                    </th>
                  ) : (
                    <td key={column.key} className={classOf(column)}>
                      {shownCell(column, row)}
                    </td>
                  ),
                )}
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** Numbers as people read them, with a true minus. */
function shownCell<Row>({ cell, number }: Column<Row>, row: Row): ReactNode {
  const content = cell(row);
  return number && typeof content === "string" ? trueMinus(content) : content;
}

function classOf<Row>({ number, unbroken, words }: Column<Row>): string | undefined {
  if (number) return styles.number;
  if (words) return styles.words;
  return unbroken ? styles.unbroken : undefined;
}
