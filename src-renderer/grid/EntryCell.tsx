import { memo } from "react";
import { numberShown } from "../window/notation.ts";
import type { CellText } from "./cell-text.ts";
import { completeLabel } from "./complete-label.ts";
import styles from "./EntryGrid.module.css";
import type { Editing } from "./grid-state.ts";
import type { GridStore } from "./grid-store.ts";

export interface EntryCellProps {
  readonly store: GridStore;
  readonly row: number;
  readonly column: number;
  readonly text: CellText;
  readonly kind: "reading" | "label" | "note" | "stage";
  /** What the cell is, for its editor: “Row 3, polar axis, left edge”. */
  readonly name: string;
  readonly active: boolean;
  readonly selected: boolean;
  /** The open editor, when it is this cell's. */
  readonly editing: Editing | null;
  readonly remark: string | null;
  /** What + would write here; shown while the cell is empty. */
  readonly proposed: string | null;
  readonly readOnly: boolean;
  /** In the right half of the grid: what is said at the cell opens to the left. */
  readonly isRight: boolean;
}

/** A cell that takes text. While it is edited it holds one uncontrolled input, so that what is typed shows natively. */
export const EntryCell = memo(function EntryCell(props: EntryCellProps) {
  const { store, row, column, text, kind, active, editing, remark, proposed, readOnly } = props;
  const problem = text.message ?? remark;
  const problemId = problem ? `cell-${row}-${column}-problem` : undefined;
  const isInvalid = text.status === "refused" || remark !== null;
  return (
    <td
      // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: a cell of a grid
      role="gridcell"
      aria-colindex={column + 1}
      aria-readonly={readOnly || undefined}
      aria-selected={props.selected}
      aria-invalid={isInvalid || undefined}
      aria-describedby={problemId}
      tabIndex={active && !editing ? 0 : -1}
      data-active-cell={active || undefined}
      data-column={column}
      data-status={editing ? undefined : text.status}
      className={isNumber(kind) ? styles.number : styles.text}
    >
      {active && editing ? (
        <Editor {...props} editing={editing} problemId={problemId} isInvalid={isInvalid} store={store} />
      ) : (
        <Shown kind={kind} text={text} proposed={proposed} />
      )}
      {problem ? (
        <span
          id={problemId}
          className={active ? styles.problem : styles.hidden}
          data-below={row < 2 || undefined}
          data-leftwards={props.isRight || undefined}
        >
          {problem}
        </span>
      ) : null}
    </td>
  );
});

/** What a cell shows that is not edited: its text, or what + would write there. */
function Shown({ kind, text, proposed }: Pick<EntryCellProps, "kind" | "text" | "proposed">) {
  if (proposed !== null && text.text === "") {
    const [, name = "", number = ""] = /^(.*?)(\d*)$/s.exec(proposed) ?? [];
    return (
      <span className={styles.proposal}>
        <span className={styles.hidden}>proposed: </span>
        <span className={styles.long}>{name}</span>
        {number} <kbd>+</kbd>
      </span>
    );
  }
  return (
    <>
      {isNumber(kind) ? (
        text.text
      ) : (
        <span className={styles.long} data-as-written>
          {text.text}
        </span>
      )}
      <StatusWords status={text.status} />
    </>
  );
}

const isNumber = (kind: EntryCellProps["kind"]): boolean => kind === "reading" || kind === "stage";

const WORDS: Readonly<Record<CellText["status"], string | null>> = {
  empty: null,
  stored: null,
  pending: "not stored yet",
  refused: "refused",
  "half-typed": "half-typed",
};

/** The state of a text by a sign (in the style sheet) and by words for screen readers. */
function StatusWords({ status }: { status: CellText["status"] }) {
  const words = WORDS[status];
  return words ? <span className={styles.hidden}> ({words})</span> : null;
}

function Editor(
  props: EntryCellProps & {
    readonly editing: Editing;
    readonly problemId: string | undefined;
    readonly isInvalid: boolean;
  },
) {
  const { store, kind, name, editing, problemId, isInvalid } = props;
  return (
    <input
      // The text at opening; from then on the input is its own master.
      defaultValue={isNumber(kind) ? numberShown(editing.text) : editing.text}
      aria-label={name}
      aria-invalid={isInvalid || undefined}
      aria-describedby={problemId}
      aria-autocomplete={kind === "label" ? "inline" : undefined}
      autoComplete="off"
      spellCheck={false}
      inputMode={isNumber(kind) ? "decimal" : "text"}
      className={styles.editor}
      onInput={({ currentTarget, nativeEvent }) => {
        const inserted = (nativeEvent as InputEvent).inputType?.startsWith("insert");
        if (kind === "label" && inserted) complete(currentTarget, store.state().labels);
        store.dispatch({ type: "typed", text: currentTarget.value });
      }}
    />
  );
}

/** Adds the rest of a known label behind the caret, selected, so that the next character types over it. */
function complete(input: HTMLInputElement, labels: readonly string[]): void {
  const typed = input.value;
  if (input.selectionStart !== typed.length) return;
  const label = completeLabel(typed, labels);
  if (label === null) return;
  input.value = label;
  input.setSelectionRange(typed.length, label.length);
}
