import type { MethodDimension } from "#core/contract/records/method.ts";
import type { GridColumn } from "../../grid/grid-columns.ts";
import type { ColumnHead } from "../../grid/grid-model.ts";

/** The heading of a column of readings: which edge, and of the second reading or part and later ones its number. */
export function readingHead(
  { dimension: key, edge, repeat }: Extract<GridColumn, { kind: "reading" }>,
  dimension: MethodDimension | undefined,
): Pick<ColumnHead, "title" | "spoken"> {
  const name = dimension?.name ?? key;
  const title = edge === "direct" ? "read" : edge;
  const what = edge === "direct" ? "reading" : `${edge} edge`;
  if (dimension?.parts) {
    return { title: `${title} ${repeat}`, spoken: `${name}, part ${repeat}, ${what}, divisions` };
  }
  const number = repeat === 1 ? "" : ` ${repeat}`;
  return { title: `${title}${number}`, spoken: `${name}, ${what}${number}, divisions` };
}
