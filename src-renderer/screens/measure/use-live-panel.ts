import { useEffect, useState, useSyncExternalStore } from "react";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import type { GridState } from "../../grid/grid-state.ts";
import { labelOf } from "../../grid/typing.ts";
import { type LiveFigures, liveFigures, liveReport, wantedShare } from "./live-figures.ts";
import { groupTitle } from "./sheet-summary.ts";
import type { SummaryFeed } from "./summary-feed.ts";
import { uncertaintyOfMean } from "./uncertainty-of-mean.ts";

/** One sample of the panel: a label's, or that of all rows. */
export interface LivePart {
  readonly label: string | null;
  readonly figures: LiveFigures | null;
}

export interface Live {
  readonly dimension: string;
  readonly parts: readonly LivePart[];
}

/** The dimension the cursor is in; on other columns the first. */
export function dimensionAtCursor(state: GridState): string {
  const here = state.columns[state.cursor.column];
  if (here && "dimension" in here) return here.dimension;
  const first = state.columns.find((column) => column.kind === "reading");
  return first?.kind === "reading" ? first.dimension : "";
}

/** The label of the row of the cursor; on the blank row that of the row above. */
export function labelAtCursor(state: GridState): string {
  const { row } = state.cursor;
  return labelOf(state, row) || (row > 0 ? labelOf(state, row - 1) : "");
}

export interface LiveWish {
  readonly dimension: string;
  readonly label: string;
  readonly definition: MethodDefinition;
  /** Half-width wanted of the mean, % as typed. */
  readonly wanted: string;
}

/** The figures of the label at the cursor and of all rows, worked out after the key that asked for them is done. */
export function useLiveFigures(feed: SummaryFeed, { dimension, label, definition, wanted }: LiveWish): Live {
  const version = useSyncExternalStore(feed.subscribe, feed.version);
  const [live, setLive] = useState<Live>({ dimension, parts: [] });
  // biome-ignore lint/correctness/useExhaustiveDependencies: `version` tells that the sample has changed
  useEffect(() => {
    const timer = setTimeout(() => {
      const share = wantedShare(wanted);
      const part = (of: string | null): LivePart => {
        const sample = feed.summary.sample(dimension, of);
        const expanded = uncertaintyOfMean(feed.summary, { dimension, label: of }, definition);
        return {
          label: of && groupTitle(of),
          figures: sample && liveFigures(sample, definition, share, expanded),
        };
      };
      const group = feed.summary.groupOf(label);
      setLive({ dimension, parts: label === "" ? [part(null)] : [part(group), part(null)] });
    }, 0);
    return () => clearTimeout(timer);
  }, [feed, version, dimension, label, definition, wanted]);
  return live;
}

/** A pause of this length in storing, ms, and the report string is made anew. */
const REPORT_PAUSE = 300;

/** A report string and of which label it is; null: of all rows. */
export interface LiveReport {
  readonly of: string | null;
  readonly text: string;
}

/** The report string of the label at the cursor, of all rows where there is no label. */
export function useLiveReport(
  feed: SummaryFeed,
  label: string,
  definition: MethodDefinition,
): LiveReport | null {
  const version = useSyncExternalStore(feed.subscribe, feed.version);
  const [report, setReport] = useState<LiveReport | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `version` tells that the sample has changed
  useEffect(() => {
    const timer = setTimeout(() => {
      const group = label === "" ? null : feed.summary.groupOf(label);
      const text = liveReport(feed.summary, group, definition);
      setReport(text === null ? null : { of: group && groupTitle(group), text });
    }, REPORT_PAUSE);
    return () => clearTimeout(timer);
  }, [feed, version, label, definition]);
  return report;
}
