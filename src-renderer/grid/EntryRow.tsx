import { memo, type ReactNode, useMemo } from "react";
import { useLivePart } from "../live/use-live-part.ts";
import type { CellText } from "./cell-text.ts";
import { EntryCell, type EntryCellProps } from "./EntryCell.tsx";
import styles from "./EntryGrid.module.css";
import { columnInRow, type GridColumn, isEditable } from "./grid-columns.ts";
import type { GridModel } from "./grid-model.ts";
import { cellKey } from "./grid-state.ts";
import type { GridStore } from "./grid-store.ts";
import { type RowView, rowViews, sameRowView } from "./row-view.ts";

export interface EntryRowProps {
  readonly store: GridStore;
  readonly model: GridModel;
  readonly index: number;
  /** Distance from the top of the rows, px. */
  readonly top: number;
}

/** One row: draws again only when something of its own has changed. */
export const EntryRow = memo(function EntryRow({ store, model, index, top }: EntryRowProps) {
  const view = useLivePart(
    store,
    useMemo(() => rowViews(index), [index]),
    sameRowView,
  );
  const computed = useMemo(() => model.compute(view), [model, view]);
  const isStruck = view.record?.struck != null;
  return (
    <tr
      aria-rowindex={index + 3}
      className={styles.row}
      data-row={index}
      data-current={view.active >= 0 || undefined}
      data-struck={isStruck || undefined}
      aria-selected={isSelectedWhole(view, model) || undefined}
      style={{ transform: `translateY(${top}px)` }}
    >
      {model.columns.map((place, at) => {
        const column = columnInRow(place, view.record, model.columns);
        return isEntry(column) ? (
          <EntryCell
            key={place.key}
            store={store}
            row={index}
            column={at}
            text={view.texts[at] ?? NO_TEXT}
            kind={shownAs(column)}
            name={`Row ${index + 1}, ${model.heads[at]?.spoken ?? ""}`}
            active={view.active === at}
            selected={isSelected(view, at)}
            editing={view.active === at ? view.editing : null}
            remark={remarkAt(view, column)}
            proposed={column.kind === "label" ? view.proposed : null}
            readOnly={isStruck}
            isRight={at > model.columns.length / 2}
          />
        ) : (
          <ReadCell
            key={column.key}
            column={column}
            at={at}
            isActive={view.active === at}
            isSelected={isSelected(view, at)}
          >
            {column.kind === "ordinal" ? (view.here ? index + 1 : "…") : computed[at]}
          </ReadCell>
        );
      })}
    </tr>
  );
});

/** A square is text, as a note is. */
const shownAs = (column: Extract<GridColumn, { kind: EntryCellProps["kind"] }>): EntryCellProps["kind"] =>
  column.kind === "stage" && column.axis === "square" ? "note" : column.kind;

const NO_TEXT: CellText = { text: "", status: "empty", message: null };

const isSelected = ({ selected }: RowView, at: number): boolean =>
  selected !== null && at >= selected.from && at <= selected.to;

const isSelectedWhole = ({ selected }: RowView, { columns }: GridModel): boolean =>
  selected !== null && selected.from === 0 && selected.to === columns.length - 1;

function remarkAt(view: RowView, column: GridColumn): string | null {
  if (view.rowId === undefined || view.remark?.cell !== cellKey(view.rowId, column.key)) return null;
  return view.remark.text;
}

interface ReadCellProps {
  readonly column: GridColumn;
  readonly at: number;
  readonly isActive: boolean;
  readonly isSelected: boolean;
  readonly children: ReactNode;
}

/** A cell that is only read: the row's number, or something computed. */
function ReadCell({ column, at, isActive, isSelected, children }: ReadCellProps) {
  const shared = {
    "aria-colindex": at + 1,
    "aria-selected": isSelected,
    "data-active-cell": isActive || undefined,
    "data-column": at,
    className: styles[column.kind],
  };
  const tabIndex = isActive ? 0 : -1;
  return column.kind === "ordinal" ? (
    <th scope="row" tabIndex={tabIndex} {...shared}>
      {children}
    </th>
  ) : (
    // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: a cell of a grid
    <td role="gridcell" tabIndex={tabIndex} aria-readonly {...shared}>
      {children}
    </td>
  );
}

function isEntry(column: GridColumn): column is Extract<GridColumn, { kind: EntryCellProps["kind"] }> {
  return isEditable(column);
}
