import { useCallback, useEffect, useRef, useState } from "react";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import { labelStem } from "#core/measurement/size-history.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import type { GridState } from "../../../grid/grid-state.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { type RowView, rowView } from "../../../grid/row-view.ts";
import type { Surroundings } from "../measured-dimension.ts";
import { kindOf } from "../sheet-summary.ts";
import type { SummaryFeed } from "../summary-feed.ts";
import { dimensionAtCursor, labelAtCursor } from "../use-live-panel.ts";
import { type ExplainedRow, explainedRow, type Known } from "./explained-row.ts";
import { type HistoryBand, historyBand } from "./history-band.ts";
import { LabelHistories, NO_HISTORIES } from "./label-histories.ts";

export interface Explained {
  readonly row: ExplainedRow;
  readonly band: HistoryBand;
}

/** What labels of this sheet measured on others, read once when the sheet is opened. */
export function useLabelHistories(sheetId: string): LabelHistories {
  const client = useClient();
  const [histories, setHistories] = useState(NO_HISTORIES);
  useEffect(() => {
    let isWanted = true;
    void client("sheets.history", { sheetId }).then((reply) => {
      if (isWanted && reply.ok && reply.value.length > 0) setHistories(new LabelHistories(reply.value));
    });
    return () => {
      isWanted = false;
    };
  }, [client, sheetId]);
  return histories;
}

/** Calibrations that rows were converted with and that are in force no more, fetched when first asked for. */
function useOldCalibrations(): {
  readonly known: Known["calibration"];
  readonly version: number;
} {
  const client = useClient();
  const kept = useRef(new Map<string, CalibrationRecord | null>());
  const [version, setVersion] = useState(0);
  const known = useCallback(
    (id: string): CalibrationRecord | null => {
      const found = kept.current.get(id);
      if (found !== undefined) return found;
      kept.current.set(id, null);
      void client("calibrations.get", { calibrationId: id }).then((reply) => {
        if (!reply.ok) return;
        kept.current.set(id, reply.value);
        setVersion((before) => before + 1);
      });
      return null;
    },
    [client],
  );
  return { known, version };
}

export interface ExplainedOptions {
  readonly store: GridStore;
  readonly feed: SummaryFeed;
  readonly around: Surroundings;
  readonly nameOf: Known["nameOf"];
}

/** Whether anything was read in a row or came into it from elsewhere, or is being typed into it. */
function isBegun({ texts, editing, record }: RowView, columns: GridState["columns"]): boolean {
  if (record?.elsewhere || (editing?.touched && editing.text !== "")) return true;
  return columns.some((column, at) => column.kind === "reading" && (texts[at]?.text ?? "") !== "");
}

/** The row that is explained: that of the cursor; while nothing is read there, the one that was completed last. */
function subjectOf(state: GridState): { readonly view: RowView; readonly dimension: string } {
  const here = rowView(state, state.cursor.row);
  const dimension = dimensionAtCursor(state);
  const last = state.lastResult;
  if (!last || isBegun(here, state.columns)) return { view: here, dimension };
  return { view: rowView(state, last.row.ordinal - 1), dimension: last.dimension };
}

function explain(
  state: GridState,
  { around, feed }: Pick<ExplainedOptions, "around" | "feed">,
  known: Known,
): Explained {
  const { view, dimension } = subjectOf(state);
  const row = explainedRow(view, state.columns, around, known);
  const label = row.label || labelAtCursor(state);
  const stem = labelStem(label);
  const names = around.context.method.definition.dimensions;
  const band = historyBand({
    stem,
    name: names.find((one) => one.key === dimension)?.name ?? dimension,
    elsewhere: around.histories?.of(label, dimension) ?? null,
    here: feed.summary.sample(dimension, kindOf(label) ?? ""),
    live: row.sizes[dimension] ?? null,
  });
  return { row, band };
}

/** Pause after a key before it is explained, ms: the key's own work comes first. */
const PAUSE = 30;

/**
 * Flags and history of the row at the cursor, worked out after the key that changed it is done, and drawn again only
 * when something of them is different.
 */
export function useExplainedRow({ store, feed, around, nameOf }: ExplainedOptions): Explained {
  const { known: calibration, version } = useOldCalibrations();
  const look = useCallback(
    (): Explained => explain(store.state(), { around, feed }, { nameOf, calibration }),
    [store, feed, around, nameOf, calibration],
  );
  const [explained, setExplained] = useState(look);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `version` tells that a calibration has been fetched
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const take = (): void => {
      timer = undefined;
      const next = look();
      setExplained((before) => (JSON.stringify(before) === JSON.stringify(next) ? before : next));
    };
    const later = (): void => {
      timer ??= setTimeout(take, PAUSE);
    };
    const stopStore = store.subscribe(later);
    const stopFeed = feed.subscribe(later);
    later();
    return () => {
      clearTimeout(timer);
      stopStore();
      stopFeed();
    };
  }, [store, feed, look, version]);
  return explained;
}
