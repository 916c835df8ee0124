import { useEffect, useState } from "react";
import type { Client } from "#core/contract/calls.ts";
import type { RowsChanged, SpecimenRow } from "#core/contract/records/sheet.ts";
import { reportWithUncertainty, roundToSignificant } from "#core/quantity/rounding.ts";
import type { BasicSummary } from "#core/statistics/summary.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import type { GridState } from "../../grid/grid-state.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { labelOf } from "../../grid/typing.ts";
import { useGridPart } from "../../grid/use-grid-part.ts";
import styles from "./MeasureScreen.module.css";
import type { SheetContext } from "./sheet-context.ts";
import { SheetSummary } from "./sheet-summary.ts";

/** Rows read at a time when a sheet is opened: few enough that no key waits for it. */
const PORTION = 200;
/** Rows counted before the window is given back to the keyboard. */
const SLICE = 20;

/** n, mean and s of the dimension at the cursor: of the label there, and of all rows. */
export function SummaryHead({ store, context }: { store: GridStore; context: SheetContext }) {
  const { summary, read, version } = useSheetSummary(store, context.sheet.id);
  const label = useGridPart(store, labelAtCursor);
  const dimension = useGridPart(store, dimensionAtCursor);
  const total = useGridPart(store, (state) => state.total);
  const name = context.method.definition.dimensions.find((one) => one.key === dimension)?.name;
  return (
    <section className={styles.summary} aria-label="Summary" data-version={version}>
      <table className={styles.summaryTable}>
        <caption>{name}, µm</caption>
        <thead>
          <tr>
            <td />
            <th scope="col">n</th>
            <th scope="col">mean</th>
            <th scope="col">s</th>
          </tr>
        </thead>
        <tbody>
          <Line title="all" of={summary.of(dimension, null)} />
          {label === "" ? null : <Line title={label} of={summary.of(dimension, label)} />}
        </tbody>
      </table>
      {read < total ? (
        <p className={styles.small}>
          {read} of {total} rows counted …
        </p>
      ) : null}
    </section>
  );
}

function dimensionAtCursor(state: GridState): string {
  const here = state.columns[state.cursor.column];
  if (here && "dimension" in here) return here.dimension;
  const first = state.columns.find((column) => column.kind === "reading");
  return first?.kind === "reading" ? first.dimension : "";
}

/** The label of the row of the cursor; on the blank row that of the row above. */
function labelAtCursor(state: GridState): string {
  const { row } = state.cursor;
  return labelOf(state, row) || (row > 0 ? labelOf(state, row - 1) : "");
}

function Line({ title, of }: { title: string; of: BasicSummary | null }) {
  const s = of?.deviation ?? null;
  const shown = of && s && !s.isZero() ? reportWithUncertainty(of.mean, s) : null;
  return (
    <tr>
      <th scope="row">{title}</th>
      <td>{of?.n ?? 0}</td>
      <td>{of ? (shown?.value ?? roundToSignificant(of.mean, 5).toFixed()) : "–"}</td>
      <td>{s ? (shown?.uncertainty ?? "0") : "–"}</td>
    </tr>
  );
}

/** Counts the rows of a sheet in small portions, and every row stored from then on. */
function useSheetSummary(store: GridStore, sheetId: string) {
  const client = useClient();
  const [summary] = useState(() => new SheetSummary());
  const [version, setVersion] = useState(0);
  const [counting, setCounting] = useState(0);

  useEffect(() => {
    let { lastStored: seen, lastChanged: seenChange } = store.state();
    return store.subscribe(() => {
      const { lastStored, lastChanged } = store.state();
      if (lastStored === seen && lastChanged === seenChange) return;
      if (lastStored !== seen && lastStored !== null) summary.store(lastStored);
      if (lastChanged !== seenChange && lastChanged !== null && !follow(summary, lastChanged)) {
        summary.clear();
        setCounting((before) => before + 1);
      }
      seen = lastStored;
      seenChange = lastChanged;
      setVersion((before) => before + 1);
    });
  }, [store, summary]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: `counting` starts the count again from the first row
  useEffect(() => {
    const stop = new AbortController();
    void countAll(client, sheetId, summary, stop.signal, () => setVersion((before) => before + 1));
    return () => stop.abort();
  }, [client, sheetId, summary, counting]);
  return { summary, version, read: summary.rows };
}

/** Takes an act on several rows into the summary; false when only counting again would do. */
function follow(summary: SheetSummary, changed: RowsChanged): boolean {
  if (changed.rows.length !== changed.count - changed.gone.length) return false;
  for (const rowId of changed.gone) summary.forget(rowId);
  for (const row of changed.rows) summary.store(row);
  return true;
}

async function countAll(
  client: Client,
  sheetId: string,
  summary: SheetSummary,
  stop: AbortSignal,
  onPortion: () => void,
): Promise<void> {
  for (let from = 1; !stop.aborted; from += PORTION) {
    const reply = await client("rows.page", { sheetId, from, count: PORTION });
    if (!reply.ok) return;
    await countInSlices(reply.value.rows, summary, stop);
    onPortion();
    if (from + PORTION > reply.value.total) return;
  }
}

async function countInSlices(
  rows: readonly SpecimenRow[],
  summary: SheetSummary,
  stop: AbortSignal,
): Promise<void> {
  for (let at = 0; at < rows.length && !stop.aborted; at += SLICE) {
    await new Promise<void>((resolve) => requestIdleCallback(() => resolve(), { timeout: 500 }));
    for (const row of rows.slice(at, at + SLICE)) {
      // Stored again meanwhile: what the page holds is older.
      if (!summary.has(row.id)) summary.store(row);
    }
  }
}
