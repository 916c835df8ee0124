import { type KeyboardEvent, useDeferredValue, useMemo, useState } from "react";
import { MOST_PLACED_ROWS } from "#core/contract/calls/sheets.ts";
import type { PlacedRow } from "#core/contract/records/sheet.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { PositionMap } from "../../../charts/PositionMap.tsx";
import { stageMaps } from "../../../charts/stage-maps.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { useRoving } from "../../../parts/layout/use-roving.ts";
import styles from "./places.module.css";

export interface PositionsDialogProps {
  readonly sheetId: string;
  /** The row that the cursor is in. */
  readonly here: number;
  readonly onGo: (ordinal: number) => void;
  readonly onClose: () => void;
}

const CAPTION: Readonly<Record<"verniers" | "squares", string>> = {
  verniers: "By the stage verniers, mm, one scale in both directions.",
  squares: "By finder-slide squares: letters from the left, numbers from above.",
};

/** Where the rows of a sheet lie on the stage, drawn and listed: a position that is chosen leads to its row. */
export function PositionsDialog({ sheetId, here, onGo, onClose }: PositionsDialogProps) {
  const client = useClient();
  const [typed, setTyped] = useState("");
  const [pointed, setPointed] = useState<number | null>(null);
  const words = useDeferredValue(typed);
  const found = useCall("rows.placed", { sheetId, words, count: MOST_PLACED_ROWS });
  const rows = found.data?.rows;
  const maps = useMemo(() => stageMaps(rows ?? []), [rows]);
  const goToFirst = async (): Promise<void> => {
    // What was typed is looked for, whether it has been drawn yet or not.
    const reply = await client("rows.placed", { sheetId, words: typed, count: 1 });
    const first = reply.ok ? reply.value.rows[0] : undefined;
    if (first) onGo(first.ordinal);
  };
  const answerKey = (event: KeyboardEvent): void => {
    if (event.key !== "Enter" || event.target instanceof HTMLButtonElement) return;
    event.preventDefault();
    void goToFirst();
  };
  return (
    <Dialog title="Positions of rows" wide onClose={onClose}>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: it hears Enter for its field */}
      <div className={styles.places} onKeyDown={answerKey}>
        <TextField
          id="placed-row"
          label="Label, square or row number"
          value={typed}
          onChange={setTyped}
          autoFocus
          hint="Enter goes to the first row found; arrow keys walk through the list."
        />
        <CallNotice calls={[found]} waiting="Looking for positions …" />
        {found.data ? (
          <p role="status" className={styles.said}>
            {said(found.data.total, typed)}
          </p>
        ) : null}
        {rows && rows.length > 0 ? (
          <div className={styles.both}>
            <div className={styles.maps}>
              {maps.map((map) => (
                <figure key={map.kind}>
                  <PositionMap
                    marks={map.places.map(({ of: row, across, up }) => ({
                      across,
                      up,
                      name: String(row.ordinal),
                      isStruck: row.isStruck,
                      isChosen: row.ordinal === (pointed ?? here),
                    }))}
                    label={`Map of ${countedNoun(map.places.length, "row")}; the table beside it names each with its position`}
                    ends={map.ends}
                    onChoose={({ name }) => onGo(Number(name))}
                  />
                  <figcaption className={styles.said}>{CAPTION[map.kind]}</figcaption>
                </figure>
              ))}
            </div>
            <PositionTable rows={rows} onGo={onGo} onPoint={setPointed} />
          </div>
        ) : null}
      </div>
    </Dialog>
  );
}

function said(total: number, typed: string): string {
  if (total === 0) {
    return typed === ""
      ? "No row of this sheet has a position yet. View (Alt+V) shows the columns for it."
      : "No row with a position is called so.";
  }
  const listed = total > MOST_PLACED_ROWS ? `, the first ${MOST_PLACED_ROWS} listed` : "";
  return `${countedNoun(total, "row")} with a position${listed}`;
}

interface PositionTableProps {
  readonly rows: readonly PlacedRow[];
  readonly onGo: (ordinal: number) => void;
  readonly onPoint: (ordinal: number | null) => void;
}

function PositionTable({ rows, onGo, onPoint }: PositionTableProps) {
  const roving = useRoving(rows.length);
  return (
    <div className={styles.scroll}>
      <table className={styles.table}>
        <caption>Rows with a position</caption>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Label</th>
            <th scope="col">x, mm</th>
            <th scope="col">y, mm</th>
            <th scope="col">Square</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ rowId, ordinal, label, stage, isStruck }, at) => {
            const { onFocus, ...stop } = roving(at);
            return (
              <tr key={rowId} onPointerEnter={() => onPoint(ordinal)} onPointerLeave={() => onPoint(null)}>
                <th scope="row">
                  <button
                    type="button"
                    className={styles.go}
                    aria-label={`Go to row ${ordinal}`}
                    {...stop}
                    onFocus={() => {
                      onFocus();
                      onPoint(ordinal);
                    }}
                    onBlur={() => onPoint(null)}
                    onClick={() => onGo(ordinal)}
                  >
                    {ordinal}
                  </button>
                </th>
                <td data-as-written>
                  {label}
                  {isStruck ? " (struck)" : ""}
                </td>
                <td>{stage.x}</td>
                <td>{stage.y}</td>
                <td data-as-written>{stage.square ?? ""}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
