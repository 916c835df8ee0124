import type { ReactNode } from "react";
import type { MethodDimension } from "#core/contract/records/method.ts";
import { DOES_NOT_CONFORM, sizeDecision } from "#core/measurement/method-limits.ts";
import { FLAG_TITLES } from "#core/vocabulary/flag.ts";
import type { GridColumn } from "../../grid/grid-columns.ts";
import type { ColumnHead, GridModel, HeadGroup } from "../../grid/grid-model.ts";
import type { RowView } from "../../grid/row-view.ts";
import styles from "./MeasureScreen.module.css";
import { type MeasuredDimension, measuredDimension, type Surroundings } from "./measured-dimension.ts";
import { readingHead } from "./reading-head.ts";
import { objectiveById } from "./sheet-context.ts";

const HEADS: Readonly<Record<GridColumn["kind"], Omit<ColumnHead, "spoken">>> = {
  ordinal: { title: "Row", width: 4 },
  label: { title: "Label", width: 8 },
  reading: { title: "", width: 4.8 },
  divisions: { title: "div", width: 4.6 },
  size: { title: "size ± U, µm", width: 9.4 },
  objective: { title: "objective", width: 5.4 },
  flags: { title: "flags", width: 8.6 },
  stage: { title: "", width: 4.4 },
  note: { title: "Note", width: 8 },
};

const SPOKEN: Readonly<Record<GridColumn["kind"], string>> = {
  ordinal: "row",
  label: "label",
  reading: "",
  divisions: "divisions",
  size: "size with its uncertainty, micrometres",
  objective: "objective used",
  flags: "flags",
  stage: "",
  note: "note",
};

function headOf(column: GridColumn, dimensions: readonly MethodDimension[]): ColumnHead {
  const head = HEADS[column.kind];
  if (column.kind === "stage") {
    const isSquare = column.axis === "square";
    const spoken = isSquare ? "finder-slide square" : `stage ${column.axis}`;
    return { ...head, width: isSquare ? 5 : head.width, title: column.axis, spoken };
  }
  if (!("dimension" in column)) return { ...head, spoken: SPOKEN[column.kind] };
  const dimension = dimensions.find((one) => one.key === column.dimension);
  const name = dimension?.name ?? column.dimension;
  if (column.kind !== "reading") return { ...head, spoken: `${name}, ${SPOKEN[column.kind]}` };
  return { ...head, ...readingHead(column, dimension) };
}

function groupsOf(columns: readonly GridColumn[], names: ReadonlyMap<string, string>): readonly HeadGroup[] {
  const perDimension = [...names].map(([key, title]) => {
    const isOwn = (column: GridColumn): boolean => "dimension" in column && column.dimension === key;
    return { title, from: columns.findIndex(isOwn), count: columns.filter(isOwn).length };
  });
  const stages = columns.filter((column) => column.kind === "stage").length;
  return [
    { title: "Specimen", from: 0, count: 2 },
    ...perDimension,
    ...(stages > 0 ? [{ title: "Stage", from: columns.length - 1 - stages, count: stages }] : []),
    { title: "", from: columns.length - 1, count: 1 },
  ];
}

/** What the grid shows of this sheet: its columns, and what its readings come to. */
export function measureModel(around: Surroundings, columns: readonly GridColumn[]): GridModel {
  const { context } = around;
  const { dimensions } = context.method.definition;
  const names = new Map(dimensions.map((one) => [one.key, one.name]));
  return {
    label: `Readings of sheet ${context.sheet.number}, ${context.sheet.sample}`,
    columns,
    heads: columns.map((column) => headOf(column, dimensions)),
    groups: groupsOf(columns, names),
    compute: (view) => computedCells(view, columns, around),
  };
}

function computedCells(
  view: RowView,
  columns: readonly GridColumn[],
  around: Surroundings,
): readonly ReactNode[] {
  const measured = new Map<string, MeasuredDimension>();
  return columns.map((column) => {
    if (!("dimension" in column) || column.kind === "reading") return null;
    const known = measured.get(column.dimension);
    const found = known ?? measuredDimension(view, columns, column.dimension, around);
    measured.set(column.dimension, found);
    return contentOf(column.kind, found, around, column.dimension);
  });
}

/** In the column of flags: a size that no reading here is behind. */
const ELSEWHERE = "converted elsewhere";

function sizeContent({ size, missing, isStored, elsewhere }: MeasuredDimension): ReactNode {
  if (size) {
    return (
      <span className={isStored ? undefined : styles.preview}>
        {size.value} <span className={styles.uncertainty}>± {size.uncertainty}</span>
      </span>
    );
  }
  if (elsewhere !== undefined) {
    return (
      <span className={styles.elsewhere} data-as-written>
        {elsewhere} µm
      </span>
    );
  }
  return missing ? <span className={styles.noFactor}>no factor</span> : null;
}

function contentOf(
  kind: "divisions" | "size" | "objective" | "flags",
  measured: MeasuredDimension,
  { context, findings }: Surroundings,
  dimension: string,
): ReactNode {
  const { divisions, train, elsewhere } = measured;
  const flags = measured.flags.filter((flag) => !findings?.isShared(dimension, flag));
  if (kind === "divisions") return divisions;
  if (kind === "objective") {
    const objective = train && objectiveById(context, train.train.objectiveId);
    const several = context.microscope.intermediateMagnifications.length > 1;
    const changer = several && train ? ` · ${train.train.intermediateMagnification}×` : "";
    return objective ? `${objective.position} · ${objective.magnification}×${changer}` : null;
  }
  if (kind === "size") return sizeContent(measured);
  const decision = sizeDecision(context.method.definition, dimension, measured.record);
  const words = [
    ...(elsewhere === undefined ? [] : [ELSEWHERE]),
    ...flags.map((flag) => FLAG_TITLES[flag]),
    ...(decision?.conforms === false ? [DOES_NOT_CONFORM] : []),
  ];
  if (words.length === 0) return null;
  return (
    <span className={styles.flagged}>
      <span aria-hidden="true">{"\u25B2\uFE0E"} </span>
      {words.join(", ")}
    </span>
  );
}
