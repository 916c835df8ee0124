import type { Measurement } from "#core/contract/records/sheet.ts";
import type { ColumnHead, GridModel } from "../../../grid/grid-model.ts";
import { readingHead } from "../reading-head.ts";
import type { SheetContext } from "../sheet-context.ts";
import { blindColumns } from "./given-grid.ts";

/** What the grid of a second reading shows: the second reader's own readings and what they come to. */
export function blindModel(context: SheetContext): GridModel {
  const columns = blindColumns(context);
  const { dimensions } = context.method.definition;
  const heads = columns.map((column): ColumnHead => {
    if (column.kind === "reading") {
      const dimension = dimensions.find((one) => one.key === column.dimension);
      return { ...readingHead(column, dimension), width: 4.8 };
    }
    if (column.kind === "divisions") return { title: "div", spoken: "divisions", width: 5 };
    if (column.kind === "size") return { title: "size ± U, µm", spoken: "size, micrometres", width: 10 };
    return { title: "No.", spoken: "place in the order of reading", width: 3.5 };
  });
  const groups = dimensions.map(({ key, name }) => {
    const own = columns.filter((column) => "dimension" in column && column.dimension === key);
    return { title: name, from: own[0] ? columns.indexOf(own[0]) : 0, count: own.length };
  });
  return {
    label: `Second reading of sheet ${context.sheet.number}`,
    columns,
    heads,
    groups: [{ title: "", from: 0, count: 1 }, ...groups],
    compute: ({ record }) =>
      columns.map((column) => {
        if (column.kind !== "divisions" && column.kind !== "size") return null;
        const measured = record?.measurements.find((one) => one.dimension === column.dimension);
        return column.kind === "divisions" ? (measured?.divisions ?? null) : sizeWords(measured);
      }),
  };
}

function sizeWords(measured: Measurement | undefined): string | null {
  if (measured?.size) return `${measured.size.shownValue} ± ${measured.size.shownUncertainty}`;
  return measured?.missing ? "no factor" : null;
}
