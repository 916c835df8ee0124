import type { SecondReadingRow } from "#core/contract/records/second-reading.ts";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { firstUnread } from "../../../grid/given-rows.ts";
import { columnsFor, type GridColumn } from "../../../grid/grid-columns.ts";
import { cellKey, type GridState, newGrid } from "../../../grid/grid-state.ts";
import { placeRows } from "../../../grid/paging.ts";
import type { SheetContext } from "../sheet-context.ts";

/** The columns of the method without label and note, which are the first reader's; where the specimen is found instead. */
export function blindColumns({ method }: Pick<SheetContext, "method">): readonly GridColumn[] {
  const isOwn = ({ kind }: GridColumn): boolean =>
    kind === "ordinal" || kind === "reading" || kind === "divisions" || kind === "size";
  return columnsFor(method.definition).filter(isOwn);
}

/** A row of the second reading as the grid knows rows: its ordinal is its place in the order of reading. */
export function asSpecimen(row: SecondReadingRow, sheetId: string, place: number): SpecimenRow {
  const { rowId: id, label, stage, measurements } = row;
  return { id, sheetId, ordinal: place, label, note: "", stage, struck: null, measurements };
}

/** A grid of given rows, all of them here; it goes on at the first reading that is missing. */
export function givenGrid(context: SheetContext, rows: readonly SecondReadingRow[]): GridState {
  const columns = blindColumns(context);
  const { sheet, microscope } = context;
  const specimens = rows.map((row, at) => asSpecimen(row, sheet.id, at + 1));
  const empty = newGrid({
    columns,
    objectives: microscope.objectives,
    objectiveId: sheet.objectiveId,
    total: specimens.length,
    firstRowId: "",
  });
  const notToRead = new Set(
    rows.flatMap(({ rowId, dimensions }) =>
      columns
        .filter(
          (one) => one.kind === "reading" && !dimensions.some((read) => read.dimension === one.dimension),
        )
        .map((one) => cellKey(rowId, one.key)),
    ),
  );
  const filled = placeRows({ ...empty, fresh: [], given: { notToRead } }, specimens, specimens.length);
  return { ...filled, cursor: firstUnread(filled) };
}
