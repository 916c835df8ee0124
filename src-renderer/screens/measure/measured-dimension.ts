import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Measurement, ReadingEdge, RepeatReading, SizeRecord } from "#core/contract/records/sheet.ts";
import { typedElsewhere } from "#core/measurement/elsewhere-words.ts";
import { flagSurroundings } from "#core/measurement/flag-surroundings.ts";
import { type FlagSurroundings, flagMeasurement } from "#core/measurement/measurement-flags.ts";
import { isInParts, readingsOf } from "#core/measurement/readings.ts";
import { previewReadings } from "#core/measurement/typed-reading.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { byWeight, type FlagKey } from "#core/vocabulary/flag.ts";
import type { GridModel } from "../../grid/grid-model.ts";
import type { RowView } from "../../grid/row-view.ts";
import { type LabelHistories, NO_HISTORIES } from "./explain/label-histories.ts";
import type { SheetFindings } from "./findings/sheet-findings.ts";
import { certificateOf, type SheetContext, trainOfObjective } from "./sheet-context.ts";

/** What one dimension of one row comes to, as stored or as it would be stored if it were taken now. */
export interface MeasuredDimension {
  readonly divisions: string | null;
  readonly size: { readonly value: string; readonly uncertainty: string } | null;
  /** Why there is no size although both edges are there. */
  readonly missing: string | null;
  readonly flags: readonly FlagKey[];
  readonly train: TrainStatus | undefined;
  /** False while it is a preview. */
  readonly isStored: boolean;
  /** What it comes from, and the size with all its digits. */
  readonly readings: readonly RepeatReading[];
  readonly record: SizeRecord | null;
  /** A size converted elsewhere, as typed, where nothing was read here. */
  readonly elsewhere?: string;
}

export interface Surroundings {
  readonly context: SheetContext;
  readonly personId: string | null;
  /** Calendar date, ISO 8601. */
  readonly today: string;
  /** Left out while they are being read. */
  readonly histories?: LabelHistories;
  /** What follows from all values of the sheet; left out where only one row is looked at. */
  readonly findings?: SheetFindings;
}

const NO_FACTOR = "No calibration in force for this objective: the row keeps divisions.";

/** The text an edge holds at this moment, the open editor's included. */
function edgeText(view: RowView, columns: GridModel["columns"], key: string): string {
  const at = columns.findIndex((column) => column.key === key);
  if (view.active === at && view.editing?.touched) return view.editing.text;
  return view.texts[at]?.text ?? "";
}

/** The label of the row as it stands in its cell, the open editor's text included. */
export function labelInCell(view: RowView, columns: GridModel["columns"]): string {
  return edgeText(view, columns, "label").trim();
}

/** What is stored of a dimension and has no column here: divisions from a notebook on a sheet read at two edges. */
function readingsBesideCells(
  stored: Measurement | undefined,
  columns: GridModel["columns"],
  dimension: string,
): readonly RepeatReading[] {
  const shown = new Set(
    columns.flatMap((column) =>
      column.kind === "reading" && column.dimension === dimension ? [`${column.edge} ${column.repeat}`] : [],
    ),
  );
  return (stored ? readingsOf(stored) : []).flatMap((reading): RepeatReading[] => {
    const kept = (edge: ReadingEdge): string | null =>
      shown.has(`${edge} ${reading.number}`) ? null : reading[edge];
    const beside = {
      number: reading.number,
      left: kept("left"),
      right: kept("right"),
      direct: kept("direct"),
    };
    return (beside.left ?? beside.right ?? beside.direct) ? [beside] : [];
  });
}

/** The readings of a dimension as they stand in the cells of the row, typed or stored; those not begun are left out. */
function readingsInCells(
  view: RowView,
  columns: GridModel["columns"],
  dimension: string,
  stored: Measurement | undefined,
): readonly RepeatReading[] {
  const byNumber = new Map(
    readingsBesideCells(stored, columns, dimension).map((reading) => [reading.number, reading]),
  );
  for (const column of columns) {
    if (column.kind !== "reading" || column.dimension !== dimension) continue;
    const text = edgeText(view, columns, column.key);
    if (text === "") continue;
    const before = byNumber.get(column.repeat) ?? {
      number: column.repeat,
      left: null,
      right: null,
      direct: null,
    };
    byNumber.set(column.repeat, { ...before, [column.edge]: text });
  }
  return [...byNumber.values()].sort((a, b) => a.number - b.number);
}

function isAsStored(
  stored: Measurement | undefined,
  readings: readonly RepeatReading[],
): stored is Measurement {
  return stored !== undefined && JSON.stringify(readingsOf(stored)) === JSON.stringify(readings);
}

/** The train the dimension is or would be converted with: frozen by its first reading, else the one in use. */
function trainOfView(
  view: RowView,
  columns: GridModel["columns"],
  dimension: string,
  stored: Measurement | undefined,
  context: SheetContext,
): TrainStatus | undefined {
  if (stored) return context.trains.find((one) => one.train.id === stored.trainId);
  const at = columns.findIndex((column) => column.kind === "reading" && column.dimension === dimension);
  return trainOfObjective(context, view.typedFor[at] ?? view.objectiveInUse);
}

export function measuredDimension(
  view: RowView,
  columns: GridModel["columns"],
  dimension: string,
  around: Surroundings,
): MeasuredDimension {
  const stored = view.record?.measurements.find((one) => one.dimension === dimension);
  const readings = readingsInCells(view, columns, dimension, stored);
  const train = trainOfView(view, columns, dimension, stored, around.context);
  if (isAsStored(stored, readings)) {
    return {
      divisions: stored.divisions,
      size: stored.size && { value: stored.size.shownValue, uncertainty: stored.size.shownUncertainty },
      missing: stored.missing,
      flags: flagsOfStored(stored, { train, label: labelInCell(view, columns) }, around),
      train,
      isStored: true,
      readings,
      record: stored.size,
    };
  }
  const empty = { ...NOTHING, train, isStored: false, readings };
  if (readings.length === 0) {
    const elsewhere = typedElsewhere(view.record?.elsewhere, dimension);
    return { ...empty, train: undefined, ...(elsewhere === null ? {} : { elsewhere }) };
  }
  const label = labelInCell(view, columns);
  return { ...empty, ...previewOf(readings, { train, stored, label, dimension }, around) };
}

/** Flags that follow from the other values of the sheet and are not stored with a row. */
const BY_SHEET: ReadonlySet<FlagKey> = new Set<FlagKey>([
  "outside-sheet",
  "wrong-objective",
  "changer-forgotten",
]);

/** What was stored, and, of a value apart from the rest of the sheet, that it is and which objective would explain it. */
function flagsOfStored(
  stored: Measurement,
  { train, label }: { readonly train: TrainStatus | undefined; readonly label: string },
  around: Surroundings,
): readonly FlagKey[] {
  const { dimension, size, flags } = stored;
  if (!train || !size || !around.findings?.isApart(label, dimension, decimal(size.value))) return flags;
  const inForce = train.inForce ?? null;
  const now = flagMeasurement(
    readingsOf(stored),
    size,
    surroundingsHere({ train, label, dimension }, inForce, around),
  ).filter(({ flag }) => BY_SHEET.has(flag));
  return byWeight([...flags, ...now.map(({ flag }) => flag)]);
}

type Preview = Pick<MeasuredDimension, "divisions" | "size" | "missing" | "flags" | "record">;

const NOTHING: Preview = { divisions: null, size: null, missing: null, flags: [], record: null };

/** Where readings belong that are being typed. */
interface Place {
  readonly train: TrainStatus | undefined;
  readonly stored: Measurement | undefined;
  readonly label: string;
  readonly dimension: string;
}

function previewOf(
  readings: readonly RepeatReading[],
  { train, stored, label, dimension }: Place,
  around: Surroundings,
): Preview {
  try {
    const inForce = train?.inForce ?? null;
    // A reading corrected later keeps the calibration it was converted with; only the service holds that factor.
    const isFrozenElsewhere = stored?.calibrationId != null && stored.calibrationId !== inForce?.id;
    const factor = isFrozenElsewhere ? null : (inForce?.result ?? null);
    const { definition } = around.context.method;
    const { divisions, size } = previewReadings(readings, { dimension, factor, definition });
    if (divisions === null) return NOTHING;
    return {
      divisions: divisions.toFixed(),
      size: size && { value: size.shownValue, uncertainty: size.shownUncertainty },
      missing: factor || isFrozenElsewhere ? null : NO_FACTOR,
      flags: train
        ? flagMeasurement(readings, size, surroundingsHere({ train, label, dimension }, inForce, around)).map(
            (one) => one.flag,
          )
        : [],
      record: size,
    };
  } catch (error) {
    // Half-typed text is not a number yet; that is no fault.
    if (error instanceof InputError) return NOTHING;
    throw error;
  }
}

/** What stands around the flags of a measurement, from the registers as this window read them. */
export function surroundingsHere(
  {
    train,
    label,
    dimension,
  }: { readonly train: TrainStatus; readonly label: string; readonly dimension: string },
  calibration: CalibrationRecord | null,
  { context, personId, today, histories = NO_HISTORIES, findings }: Surroundings,
): FlagSurroundings {
  const { microscope, method } = context;
  return flagSurroundings({
    definition: method.definition,
    microscope,
    train: train.train,
    calibration,
    certificateDueOn: calibration
      ? (certificateOf(context, calibration.certificateId)?.certificate.dueOn ?? null)
      : null,
    trainState: train.state,
    personId,
    inParts: isInParts(method.definition, dimension),
    today,
    history: histories.of(label, dimension) ?? undefined,
    ...(findings ? { sheet: findings.around(label, dimension) } : {}),
    trains: () => context.trains,
  });
}
