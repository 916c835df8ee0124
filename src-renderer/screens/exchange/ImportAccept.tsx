import { useState } from "react";
import type { ImportChoice, ImportPreview, RefusedCell } from "#core/contract/records/exchange.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { NewSheetForm } from "../measure/NewSheetForm.tsx";
import styles from "./Exchange.module.css";

type FirstRow = ImportPreview["first"][number];

const FIRST: readonly Column<FirstRow>[] = [
  { key: "line", title: "Line", number: true, names: true, cell: (one) => one.line },
  { key: "label", title: "Label", cell: (one) => one.label },
  { key: "readings", title: "Readings", cell: (one) => one.readings.join("; ") },
  { key: "note", title: "Note", cell: (one) => one.note },
];

const REFUSED: readonly Column<RefusedCell>[] = [
  { key: "line", title: "Line", number: true, names: true, cell: (one) => one.line },
  { key: "column", title: "Column", number: true, cell: (one) => one.column },
  { key: "text", title: "In the file", cell: (one) => one.text },
  { key: "reason", title: "Why not", cell: (one) => one.reason },
];

export interface ImportAcceptProps {
  readonly choice: ImportChoice;
  readonly preview: ImportPreview;
  readonly method: Method;
  readonly onStored: (sheet: Sheet) => void;
}

/** What a file would become, what of it was refused, and the sheet it goes into. */
export function ImportAccept({ choice, preview, method, onStored }: ImportAcceptProps) {
  const client = useClient();
  const microscopes = useCall("microscopes.list", {});
  const [withoutRefused, setWithoutRefused] = useState(false);
  const clean = preview.refusedLines === 0;
  const refusedWords = countedNoun(preview.refusedLines, "line");
  return (
    <>
      <Panel title="What it becomes" lead="Look at it before you accept it: nothing has been stored yet.">
        <div className={styles.stack}>
          <Notice
            kind={clean ? "done" : "care"}
            live
            title={`${countedNoun(preview.rows, "row")} with ${countedNoun(preview.readings, "reading")}`}
          >
            {preview.convertedElsewhere > 0 ? (
              <p>
                {countedNoun(preview.convertedElsewhere, "size")} converted elsewhere: kept apart with their
                rows as not traceable, and part of no result.
              </p>
            ) : null}
            {clean ? null : <p>{refusedWords} cannot be taken in as written.</p>}
          </Notice>
          <DataTable
            caption="The first rows"
            columns={FIRST}
            rows={preview.first}
            rowKey={(one) => String(one.line)}
            empty="No line of the file becomes a row."
          />
          {clean ? null : (
            <>
              <DataTable
                caption="Cells that were refused"
                columns={REFUSED}
                rows={preview.refused}
                rowKey={(one) => `${one.line}/${one.column}`}
                empty=""
              />
              <label className={styles.sheet}>
                <input
                  type="checkbox"
                  checked={withoutRefused}
                  onChange={(event) => setWithoutRefused(event.target.checked)}
                />
                {preview.refusedLines === 1 ? "Leave this line out" : `Leave these ${refusedWords} out`}
              </label>
            </>
          )}
        </div>
      </Panel>
      {preview.rows > 0 && microscopes.data ? (
        <NewSheetForm
          methods={[method]}
          microscopes={microscopes.data}
          onOpened={onStored}
          instead={{
            id: "import",
            title: "The sheet it goes into",
            submit: `Accept ${countedNoun(preview.rows, "row")}`,
            send: (sheet, requestId) =>
              client("imports.accept", { requestId, choice, sheet, withoutRefused }),
          }}
        />
      ) : null}
    </>
  );
}
