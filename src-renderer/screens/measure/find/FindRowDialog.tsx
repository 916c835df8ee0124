import { type KeyboardEvent, useDeferredValue, useMemo, useState } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { FLAG_TITLES } from "#core/vocabulary/flag.ts";
import { ChoiceField } from "../../../parts/form/ChoiceField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { useRoving } from "../../../parts/layout/use-roving.ts";
import type { SeenRow } from "../sheet-summary.ts";
import styles from "./find.module.css";
import { findRows, inOrder, ROW_FILTERS, ROW_ORDERS, type RowFilter, type RowOrder } from "./found-rows.ts";

/** Rows listed; a word more finds the rest. */
const MOST_LISTED = 100;

const FILTER_WORDS: Readonly<Record<RowFilter, string>> = {
  all: "every row",
  flagged: "flagged rows",
  unfinished: "rows not measured to the end",
};

const ORDER_WORDS: Readonly<Record<RowOrder, string>> = {
  entry: "as entered",
  label: "by label",
};

export interface FindRowDialogProps {
  readonly rows: () => Iterable<SeenRow>;
  /** Rows on the sheet, struck ones and those that have not been looked through yet with them. */
  readonly total: number;
  readonly onGo: (ordinal: number) => void;
  readonly onClose: () => void;
}

/** Finds a row by its number or label, or shows only those that want another look; the sheet keeps its order. */
export function FindRowDialog({ rows, total, onGo, onClose }: FindRowDialogProps) {
  const [all] = useState(() => [...rows()]);
  const [typed, setTyped] = useState("");
  const [filter, setFilter] = useState<RowFilter>("all");
  const [order, setOrder] = useState<RowOrder>("entry");
  const wanted = useDeferredValue(typed);
  const found = useMemo(() => inOrder(findRows(all, wanted, filter), order), [all, wanted, filter, order]);
  const listed = found.slice(0, MOST_LISTED);
  const roving = useRoving(listed.length);
  const answerKey = (event: KeyboardEvent): void => {
    if (event.key !== "Enter" || event.target instanceof HTMLButtonElement) return;
    event.preventDefault();
    const ordinal =
      inOrder(findRows(all, typed, filter), order)[0]?.ordinal ?? Number(typed.trim() || Number.NaN);
    if (Number.isInteger(ordinal) && ordinal >= 1 && ordinal <= total) onGo(ordinal);
  };
  return (
    <Dialog title="Find a row" onClose={onClose}>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: it hears Enter for its fields */}
      <div className={styles.find} onKeyDown={answerKey}>
        <TextField
          id="find-row"
          label="Row number or label"
          value={typed}
          onChange={setTyped}
          autoFocus
          hint="Enter goes to the first row found."
        />
        <ChoiceField
          id="find-filter"
          label="Among"
          value={filter}
          onChange={(value) => setFilter(ROW_FILTERS.find((one) => one === value) ?? filter)}
          choices={ROW_FILTERS.map((value) => ({ value, words: FILTER_WORDS[value] }))}
        />
        <ChoiceField
          id="find-order"
          label="Listed"
          value={order}
          onChange={(value) => setOrder(ROW_ORDERS.find((one) => one === value) ?? order)}
          choices={ROW_ORDERS.map((value) => ({ value, words: ORDER_WORDS[value] }))}
        />
        <p role="status" className={styles.said}>
          {countedNoun(found.length, "row")} found
          {found.length > MOST_LISTED ? `, the first ${MOST_LISTED} listed` : ""}
        </p>
        <ul className={styles.rows}>
          {listed.map((row, at) => (
            <li key={row.ordinal}>
              <button type="button" className={styles.row} {...roving(at)} onClick={() => onGo(row.ordinal)}>
                <span className={styles.number}>{row.ordinal}</span>
                <span>{row.label}</span>
                <span className={styles.said}>
                  {[
                    ...new Set(row.flags.map((flag) => FLAG_TITLES[flag])),
                    ...(row.isUnfinished ? ["not measured to the end"] : []),
                  ].join(", ")}
                </span>
              </button>
            </li>
          ))}
        </ul>
      </div>
    </Dialog>
  );
}
