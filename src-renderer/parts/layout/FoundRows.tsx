import { type KeyboardEvent, useDeferredValue, useMemo, useState } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { Button } from "../Button.tsx";
import fields from "../Field.module.css";
import { type Column, DataTable } from "./DataTable.tsx";
import styles from "./FoundRows.module.css";

/** Rows drawn at first, and with each “Show more”. */
const PAGE = 50;

export interface FoundRowsProps<Row> {
  readonly caption: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly rowKey: (row: Row) => string;
  readonly empty: string;
  /** What the search looks in. */
  readonly textOf: (row: Row) => string;
  /** What the search field asks for: “number or sample”. */
  readonly asksFor: string;
  /** Enter in the search field: the first row found. */
  readonly onFirst: (row: Row) => void;
}

/** A long list to read: a search field that takes the focus first, then the rows found, a page at a time. */
export function FoundRows<Row>(props: FoundRowsProps<Row>) {
  const { caption, columns, rows, rowKey, empty, textOf, asksFor, onFirst } = props;
  const [typed, setTyped] = useState("");
  const [drawn, setDrawn] = useState(PAGE);
  const wanted = useDeferredValue(typed);
  const found = useMemo(() => matching(rows, textOf, wanted), [rows, textOf, wanted]);
  if (rows.length === 0) return <p className={styles.said}>{empty}</p>;
  const answerKey = (event: KeyboardEvent): void => {
    const [first] = matching(rows, textOf, typed);
    if (event.key === "Escape" && typed !== "") setTyped("");
    else if (event.key === "Enter" && first !== undefined) onFirst(first);
    else return;
    event.preventDefault();
  };
  return (
    <>
      <div className={styles.search}>
        <input
          type="search"
          className={fields.control}
          value={typed}
          data-first-focus
          aria-label={`Find: ${asksFor}`}
          placeholder={`Find: ${asksFor}`}
          autoComplete="off"
          spellCheck={false}
          onChange={(event) => {
            setTyped(event.target.value);
            setDrawn(PAGE);
          }}
          onKeyDown={answerKey}
        />
        <p role="status" className={styles.said}>
          {typed === "" ? countedNoun(rows.length, "entry", "entries") : `${found.length} of ${rows.length}`}
        </p>
      </div>
      <DataTable
        caption={caption}
        captionHidden
        columns={columns}
        rows={found.slice(0, drawn)}
        rowKey={rowKey}
        empty={`Nothing here holds “${wanted}”.`}
      />
      {found.length > drawn ? (
        <p className={styles.more}>
          <Button onClick={() => setDrawn(drawn + PAGE)}>
            Show {Math.min(PAGE, found.length - drawn)} more
          </Button>
        </p>
      ) : null}
    </>
  );
}

/** Every word must occur, whatever the case. */
function matching<Row>(rows: readonly Row[], textOf: (row: Row) => string, typed: string): readonly Row[] {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return rows;
  return rows.filter((row) => {
    const text = textOf(row).toLowerCase();
    return words.every((word) => text.includes(word));
  });
}
