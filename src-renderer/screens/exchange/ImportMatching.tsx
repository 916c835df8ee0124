import { useState } from "react";
import type { ImportColumn, ImportPreview, ImportTable } from "#core/contract/records/exchange.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import type { CallError } from "#core/contract/reply.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { meaningChoices, meaningOf, withMeaning } from "./column-meaning.ts";
import styles from "./Exchange.module.css";
import { ImportAccept } from "./ImportAccept.tsx";

const CONVERTED_BY = "import-converted-by";

export interface ImportMatchingProps {
  readonly uploadId: string;
  readonly table: ImportTable;
  readonly method: Method;
  readonly onWorksheet: (worksheet: string) => void;
  readonly onStored: (sheet: Sheet) => void;
}

/** What each column of a file holds, with its first lines beneath, and the preview of what it becomes. */
export function ImportMatching({ uploadId, table, method, onWorksheet, onStored }: ImportMatchingProps) {
  const client = useClient();
  const [columns, setColumns] = useState<readonly ImportColumn[]>(table.suggested.columns);
  const [headingLines, setHeadingLines] = useState(table.suggested.headingLines);
  const [preview, setPreview] = useState<ImportPreview | null>(null);
  const [error, setError] = useState<CallError | null>(null);
  const [convertedBy, setConvertedBy] = useState("");
  const [unnamed, setUnnamed] = useState(false);
  const isConverted = columns.some(({ role }) => role === "micrometres");
  const choice = {
    uploadId,
    worksheet: table.worksheet,
    headingLines,
    columns: [...columns],
    methodId: method.id,
    convertedBy: isConverted ? convertedBy : "",
  };
  const change = (column: number, meaning: string): void => {
    setColumns(withMeaning(columns, column, meaning));
    setPreview(null);
  };
  const look = async (): Promise<void> => {
    const isUnnamed = isConverted && convertedBy.trim() === "";
    setUnnamed(isUnnamed);
    if (isUnnamed) {
      setPreview(null);
      document.getElementById(CONVERTED_BY)?.focus();
      return;
    }
    const reply = await client("imports.preview", choice);
    setPreview(reply.ok ? reply.value : null);
    setError(reply.ok ? null : reply.error);
  };
  return (
    <>
      <Panel
        title={`What the columns of ${table.fileName} hold`}
        lead={`${countedNoun(table.lines, "line")} in ${countedNoun(table.columns, "column")}. Say what each column is; the rest is left out.`}
        actions={
          <Button look="main" onClick={() => void look()}>
            Preview
          </Button>
        }
      >
        <div className={styles.stack}>
          {table.worksheets.length > 1 ? (
            <SelectField
              id="import-worksheet"
              label="Worksheet"
              value={table.worksheet ?? ""}
              onChange={onWorksheet}
              choices={table.worksheets.map((value) => ({ value, words: value }))}
            />
          ) : null}
          <SelectField
            id="import-headings"
            label="Lines above the first reading"
            value={String(headingLines)}
            onChange={(value) => {
              setHeadingLines(Number(value));
              setPreview(null);
            }}
            choices={[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10].map((lines) => ({
              value: String(lines),
              words: lines === 0 ? "none" : String(lines),
            }))}
          />
          <ColumnTable
            table={table}
            method={method}
            columns={columns}
            headingLines={headingLines}
            onChange={change}
          />
          {isConverted ? (
            <TextField
              id={CONVERTED_BY}
              label="Sizes in µm were converted by"
              hint="The factor, or the program, in your words; “not known” where nobody knows. It stands with every such size."
              value={convertedBy}
              error={
                unnamed
                  ? "Name the factor or the program that made the sizes, or write “not known”."
                  : undefined
              }
              onChange={(text) => {
                setConvertedBy(text);
                setUnnamed(false);
                setPreview(null);
              }}
            />
          ) : null}
          {error ? <RefusalNotice error={error} /> : null}
        </div>
      </Panel>
      {preview ? (
        <ImportAccept choice={choice} preview={preview} method={method} onStored={onStored} />
      ) : null}
    </>
  );
}

interface ColumnTableProps {
  readonly table: ImportTable;
  readonly method: Method;
  readonly columns: readonly ImportColumn[];
  readonly headingLines: number;
  readonly onChange: (column: number, meaning: string) => void;
}

const LINES_SHOWN = 8;

function ColumnTable({ table, method, columns, headingLines, onChange }: ColumnTableProps) {
  const choices = meaningChoices(method.definition.dimensions);
  const places = Array.from({ length: table.columns }, (_, column) => column);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table must scroll by keyboard
    <section className={styles.columns} aria-label="Columns and first lines of the file" tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">Line</th>
            {places.map((column) => (
              <th key={column} scope="col">
                <select
                  aria-label={`Column ${column + 1} holds`}
                  value={meaningOf(columns, column)}
                  onChange={(event) => onChange(column, event.target.value)}
                >
                  {choices.map(({ value, words }) => (
                    <option key={value} value={value}>
                      {words}
                    </option>
                  ))}
                </select>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.sample.slice(0, LINES_SHOWN).map((cells, line) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: lines of a file are known by their number alone
            <tr key={line} className={line < headingLines ? styles.headingLine : undefined}>
              <th scope="row">{line + 1}</th>
              {places.map((column) => (
                <td key={column}>{cells[column] ?? ""}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
