import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Measurement, SizeRecord, SizesElsewhere } from "#core/contract/records/sheet.ts";
import { explainFlags, type FlagFact } from "#core/measurement/flag-facts.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { FlagKey } from "#core/vocabulary/flag.ts";
import type { GridColumn } from "../../../grid/grid-columns.ts";
import type { RowView } from "../../../grid/row-view.ts";
import {
  labelInCell,
  type MeasuredDimension,
  measuredDimension,
  type Surroundings,
  surroundingsHere,
} from "../measured-dimension.ts";

/** A flag of one dimension of the row at the cursor, with the numbers behind it. */
export interface ExplainedFlag {
  readonly flag: FlagKey;
  readonly dimension: string;
  readonly facts: readonly FlagFact[];
  /** Raised when the reading was taken; by the registers of today it would not be. */
  readonly isPast: boolean;
}

/** What is said of the row at the cursor. */
export interface ExplainedRow {
  /** 1-based. */
  readonly row: number;
  readonly label: string;
  readonly isStruck: boolean;
  readonly flags: readonly ExplainedFlag[];
  /** Sizes as stored or as they would be stored now, by dimension. */
  readonly sizes: Readonly<Record<string, SizeRecord | null>>;
  /** What of the row was converted elsewhere, and by what; left out where nothing was. */
  readonly elsewhere?: SizesElsewhere;
}

/** Names and calibrations that an explanation needs beside the registers of the sheet. */
export interface Known {
  readonly nameOf: (personId: string | null) => string;
  /** A calibration that is in force no more; null while it is being fetched. */
  readonly calibration: (id: string) => CalibrationRecord | null;
}

/** The calibration behind a dimension: the frozen one of what is stored, else the one in force. */
function calibrationOf(
  { train }: MeasuredDimension,
  stored: Measurement | undefined,
  known: Known,
): CalibrationRecord | null {
  const inForce = train?.inForce ?? null;
  if (stored?.calibrationId == null || stored.calibrationId === inForce?.id) return inForce;
  return known.calibration(stored.calibrationId);
}

/** What only the window knows: names, and why a train is to be checked. */
function ownFacts(
  flag: FlagKey,
  { train }: MeasuredDimension,
  people: { readonly by: string | null; readonly calibratedBy: string | null },
  known: Known,
): readonly FlagFact[] {
  if (flag === "check-before-use" && train) return [{ name: "why", value: train.why }];
  if (flag !== "person-differs") return [];
  return [
    { name: "read by", value: known.nameOf(people.by) },
    { name: "calibrated by", value: known.nameOf(people.calibratedBy) },
  ];
}

function factsOf(
  measured: MeasuredDimension,
  of: { readonly label: string; readonly dimension: string },
  calibration: CalibrationRecord | null,
  around: Surroundings,
): ReadonlyMap<FlagKey, readonly FlagFact[]> {
  const { train, readings, record } = measured;
  if (!train) return new Map();
  try {
    const surroundings = surroundingsHere({ train, ...of }, calibration, around);
    return new Map(explainFlags(readings, record, surroundings).map(({ flag, facts }) => [flag, facts]));
  } catch (error) {
    if (error instanceof InputError) return new Map();
    throw error;
  }
}

/** Flags and sizes of the row at the cursor, as its cells stand at this moment. */
export function explainedRow(
  view: RowView,
  columns: readonly GridColumn[],
  around: Surroundings,
  known: Known,
): ExplainedRow {
  const label = labelInCell(view, columns);
  const sizes: Record<string, SizeRecord | null> = {};
  const flags = around.context.method.definition.dimensions.flatMap(({ key: dimension }) => {
    const measured = measuredDimension(view, columns, dimension, around);
    sizes[dimension] = measured.record;
    if (measured.flags.length === 0) return [];
    const stored = view.record?.measurements.find((one) => one.dimension === dimension);
    const by = measured.isStored && stored ? stored.enteredBy : around.personId;
    const calibration = calibrationOf(measured, stored, known);
    const facts = factsOf(measured, { label, dimension }, calibration, { ...around, personId: by });
    const people = { by, calibratedBy: calibration?.personId ?? null };
    return measured.flags.map((flag) => ({
      flag,
      dimension,
      facts: [...(facts.get(flag) ?? []), ...ownFacts(flag, measured, people, known)],
      isPast: !facts.has(flag),
    }));
  });
  const elsewhere = view.record?.elsewhere;
  return {
    row: view.index + 1,
    label,
    isStruck: view.record?.struck != null,
    flags,
    sizes,
    ...(elsewhere ? { elsewhere } : {}),
  };
}
