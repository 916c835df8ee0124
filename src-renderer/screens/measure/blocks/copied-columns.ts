import type { MethodDefinition } from "#core/contract/records/method.ts";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { blockColumnWords } from "#core/measurement/block-columns.ts";
import { FLAG_TITLES } from "#core/vocabulary/flag.ts";
import { cellOf, type GridColumn } from "../../../grid/grid-columns.ts";
import type { SheetContext } from "../sheet-context.ts";

type Dimensions = Pick<MethodDefinition, "dimensions">;

/** By the key of the column. */
const ENTERED: Readonly<Record<string, string>> = {
  ordinal: "Row",
  label: "Label",
  "stage.x": "Stage x",
  "stage.y": "Stage y",
  "stage.square": "Finder-slide square",
  note: "Note",
};

const COMPUTED: Readonly<Record<"divisions" | "size" | "objective" | "flags", string>> = {
  divisions: "divisions (div)",
  size: "size ± U (µm)",
  objective: "objective",
  flags: "flags",
};

/**
 * What stands above a copied column, with its unit.
 * @param apart a size takes two columns: the number and its U
 */
export function copiedHeadings(
  column: GridColumn,
  definition: Dimensions,
  apart: boolean,
): readonly string[] {
  if (column.kind === "reading") {
    return [blockColumnWords({ kind: "reading", cell: cellOf(column) }, definition)];
  }
  if (!("dimension" in column)) return [ENTERED[column.key] ?? column.key];
  const { dimension, kind } = column;
  const name = definition.dimensions.find((one) => one.key === dimension)?.name ?? dimension;
  return isApart(column, apart) ? [`${name}, size (µm)`, `${name}, U (µm)`] : [`${name}, ${COMPUTED[kind]}`];
}

/** Whether a column is copied as two. */
export const isApart = (column: GridColumn, apart: boolean): boolean => apart && column.kind === "size";

function copiedSize(size: { shownValue: string; shownUncertainty: string } | null, apart: boolean): string[] {
  const parts = size ? [size.shownValue, size.shownUncertainty] : ["", ""];
  return apart ? parts : [size ? parts.join(" ± ") : ""];
}

/** The computed cells of a stored row in a column, as shown; "" where there is nothing. */
export function copiedComputed(
  record: SpecimenRow | null,
  column: GridColumn,
  context: SheetContext,
  apart: boolean,
): readonly string[] {
  if (!("dimension" in column)) return [""];
  const measured = record?.measurements.find((one) => one.dimension === column.dimension);
  if (column.kind === "size") return copiedSize(measured?.size ?? null, apart);
  return [measured ? toldBy(measured, column, context) : ""];
}

type Measured = SpecimenRow["measurements"][number];

function toldBy(measured: Measured, column: GridColumn, context: SheetContext): string {
  if (column.kind === "divisions") return measured.divisions ?? "";
  if (column.kind === "flags") return measured.flags.map((flag) => FLAG_TITLES[flag]).join(", ");
  const train = context.trains.find((one) => one.train.id === measured.trainId)?.train;
  const objective = context.microscope.objectives.find((one) => one.id === train?.objectiveId);
  return objective ? `${objective.position} · ${objective.magnification}×` : "";
}
