import type { ReactNode } from "react";
import type { GridColumn } from "./grid-columns.ts";
import type { RowView } from "./row-view.ts";

/** How one column is headed and how wide it is. */
export interface ColumnHead {
  readonly title: string;
  /** Read out in place of the title where the title is short. */
  readonly spoken: string;
  /** Width, rem. */
  readonly width: number;
}

/** The heading over several columns: a dimension. */
export interface HeadGroup {
  readonly title: string;
  readonly from: number;
  readonly count: number;
}

/** What the screen lends the grid: headings, and the contents of the columns that are computed. */
export interface GridModel {
  readonly label: string;
  readonly columns: readonly GridColumn[];
  readonly heads: readonly ColumnHead[];
  readonly groups: readonly HeadGroup[];
  /** Computed cells of a row, by column; called when the row's view has changed. */
  readonly compute: (view: RowView) => readonly ReactNode[];
}
