import { type ClipboardEvent, Fragment, type KeyboardEvent, useLayoutEffect, useRef } from "react";
import { Button } from "../Button.tsx";
import fieldStyles from "../Field.module.css";
import { classNames } from "../layout/class-names.ts";
import styles from "./EntryTable.module.css";
import { sentence } from "./FieldFrame.tsx";
import type { FieldProps } from "./field-props.ts";
import { cellsOfClipboard } from "./pasted-cells.ts";
import type { Choice } from "./SelectField.tsx";
import { useOwnNotation } from "./use-own-notation.ts";

export interface EntryColumn {
  readonly key: string;
  readonly title: string;
  readonly unit?: string;
  readonly kind: "number" | "text" | "choice";
  readonly choices?: readonly Choice[];
  readonly placeholder?: string | ((row: number) => string);
}

export interface EntryTableProps {
  readonly caption: string;
  readonly columns: readonly EntryColumn[];
  readonly rows: number;
  /** Names a row for its labels: “Objective 2”. */
  readonly rowName: (row: number) => string;
  readonly bind: (row: number, column: string, label: string) => FieldProps;
  readonly onAdd: () => void;
  readonly addWords: string;
  readonly onRemove: (row: number) => void;
  /** Rows that must stay. */
  readonly least: number;
  readonly most: number;
  /** Takes a pasted block of cells; without it, text is pasted into the one field. */
  readonly onPaste?: (row: number, column: number, cells: readonly (readonly string[])[]) => void;
}

/** Rows of entry fields by keypad: Enter goes to the next field, and from the last one to a new row. */
export function EntryTable(props: EntryTableProps) {
  const { caption, columns, rows, rowName, addWords, onAdd, onRemove, least, most } = props;
  const table = useRef<HTMLTableElement>(null);
  const wantedRow = useRef<number | null>(null);
  useLayoutEffect(() => {
    if (wantedRow.current === null || wantedRow.current >= rows) return;
    fieldsOf(table.current)[wantedRow.current * columns.length]?.focus();
    wantedRow.current = null;
  });
  const add = (): void => {
    if (rows >= most) return;
    wantedRow.current = rows;
    onAdd();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== "Enter" || event.ctrlKey || !isField(event.target)) return;
    event.preventDefault();
    const fields = fieldsOf(table.current);
    const next = fields[fields.indexOf(event.target) + 1];
    if (next) {
      next.focus();
      // As Tab does: what is typed next takes the place of what stands there.
      if (next instanceof HTMLInputElement) next.select();
    } else add();
  };
  const onPaste = (event: ClipboardEvent): void => {
    const cells = cellsOfClipboard(event.clipboardData.getData("text/plain"));
    const single = cells.length === 1 && cells[0]?.length === 1;
    if (!props.onPaste || single || !isField(event.target)) return;
    event.preventDefault();
    const at = fieldsOf(table.current).indexOf(event.target);
    props.onPaste(Math.floor(at / columns.length), at % columns.length, cells);
  };
  return (
    <div className={styles.entry}>
      <table ref={table} className={styles.table} onKeyDown={onKeyDown} onPaste={onPaste}>
        <caption className={styles.caption}>{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.key} scope="col">
                {column.title}
                {column.unit ? <span className={styles.unit}> / {column.unit}</span> : null}
              </th>
            ))}
            <td />
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: rows }, (_, row) => {
            const fields = columns.map((column) => ({
              column,
              field: props.bind(row, column.key, `${rowName(row)}, ${column.title.toLowerCase()}`),
            }));
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: a row of a form is its number
              <Fragment key={row}>
                <tr>
                  {fields.map(({ column, field }) => (
                    <td key={column.key}>
                      <EntryField column={column} row={row} field={field} />
                    </td>
                  ))}
                  <td>
                    {rows > least ? (
                      <Button
                        look="quiet"
                        aria-label={`Remove ${rowName(row)}`}
                        onClick={() => onRemove(row)}
                      >
                        Remove
                      </Button>
                    ) : null}
                  </td>
                </tr>
                <RowProblems fields={fields} />
              </Fragment>
            );
          })}
        </tbody>
      </table>
      <p>
        <Button look="quiet" onClick={add} disabled={rows >= most}>
          {addWords}
        </Button>
      </p>
    </div>
  );
}

function EntryField({ column, row, field }: { column: EntryColumn; row: number; field: FieldProps }) {
  const { placeholder } = column;
  const { value, onChange } = useOwnNotation(column.kind, field);
  const common = {
    id: field.id,
    value,
    "aria-label": field.label,
    "aria-invalid": field.error ? (true as const) : undefined,
    "aria-describedby": field.error ? `${field.id}-error` : undefined,
    className: classNames(fieldStyles.control, column.kind === "number" && fieldStyles.number),
  };
  return (
    <>
      {column.kind === "choice" ? (
        <select {...common} onChange={(event) => onChange(event.target.value)}>
          {column.choices?.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.words}
            </option>
          ))}
        </select>
      ) : (
        <input
          {...common}
          type="text"
          inputMode={column.kind === "number" ? "decimal" : undefined}
          autoComplete="off"
          spellCheck={false}
          placeholder={typeof placeholder === "function" ? placeholder(row) : placeholder}
          onChange={(event) => onChange(event.target.value)}
        />
      )}
    </>
  );
}

/** What is wrong in a row, under it and over its whole width. */
function RowProblems({
  fields,
}: {
  fields: readonly { readonly column: EntryColumn; readonly field: FieldProps }[];
}) {
  const wrong = fields.filter(({ field }) => field.error);
  if (wrong.length === 0) return null;
  return (
    <tr>
      <td colSpan={fields.length + 1}>
        {wrong.map(({ column, field }) => (
          <p key={column.key} className={fieldStyles.error} id={`${field.id}-error`}>
            {sentence(column.title, field.error ?? "")}
          </p>
        ))}
      </td>
    </tr>
  );
}

type EntryElement = HTMLInputElement | HTMLSelectElement;

function isField(target: EventTarget | null): target is EntryElement {
  return target instanceof HTMLInputElement || target instanceof HTMLSelectElement;
}

function fieldsOf(table: HTMLElement | null): readonly EntryElement[] {
  return [...(table?.querySelectorAll<EntryElement>("input, select") ?? [])];
}
