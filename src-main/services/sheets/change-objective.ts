import type { ParsedInput } from "#core/contract/calls.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Measurement, RowsChanged, Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  findAct,
  type JournalChange,
  lastDone,
  rowsOfAct,
} from "../../store/repositories/journal-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { findRowEvenUndone, pageOfRows } from "../../store/repositories/row-repository.ts";
import { supersededOfRow } from "../../store/repositories/superseded-repository.ts";
import { findTrainOf } from "../../store/repositories/train-repository.ts";
import { requireObjective } from "../equipment/require-train.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout, type WriteContext } from "../write-context/in-transaction.ts";
import { changeOfSheet } from "./closed-sheet.ts";
import { replaceResults } from "./replace-results.ts";
import { journalAct, rowsChanged } from "./row-journal.ts";
import { requireRow } from "./rows.ts";
import { SheetConverter } from "./sheet-converter.ts";
import { requireSheet } from "./sheets.ts";

type Input = ParsedInput<"rows.changeObjective">;

/** The rows named. Struck rows of a range keep what they have; one named by itself is refused. */
export function rowsNamed(db: ReadableDb, sheet: Sheet, named: Input["rows"]): SpecimenRow[] {
  if ("from" in named) {
    const { from, to } = named;
    const rows = to < from ? [] : pageOfRows(db, sheet.id, from, to - from + 1);
    if (rows.length > 0) return rows.filter((row) => row.struck === null);
    throw new Refusal("row.unknown", `There are no rows ${from} to ${to} on this sheet.`, {
      field: "rows",
      hint: `It has ${countedNoun(sheet.rowCount, "row")}.`,
    });
  }
  return named.ids.map((id) => {
    const row = requireRow(db, sheet.id, id);
    if (!row.struck) return row;
    throw new Refusal("row.struck", `Row ${row.ordinal} is struck: ${row.struck.reason}`, {
      field: "rows",
      hint: "Leave it out; its results count nowhere.",
    });
  });
}

function trainWith(db: ReadableDb, sheet: Sheet, objectiveId: string): OpticalTrain {
  const microscope = findMicroscope(db, sheet.microscopeId);
  if (!microscope) throw new Error(`microscope ${sheet.microscopeId} of a sheet is missing`);
  requireObjective(microscope, objectiveId, "objectiveId");
  const step = textOfDecimal(decimal(sheet.intermediateMagnification));
  const train = findTrainOf(db, {
    eyepieceId: sheet.eyepieceId,
    objectiveId,
    intermediateMagnification: step,
  });
  if (train) return train;
  throw new Refusal("train.unknown", "This objective makes no train with the eyepiece of the sheet.", {
    field: "objectiveId",
    hint: "Look at the microscope in the registers.",
  });
}

/** One measurement derived again behind another train, with the factor in force now. */
function moved(
  converter: SheetConverter,
  row: SpecimenRow,
  measurement: Measurement,
  train: OpticalTrain,
): Measurement {
  const calibration = converter.calibrationInForce(train.id);
  return {
    ...measurement,
    trainId: train.id,
    ...converter.convert(measurement, { label: row.label, train, calibration }),
  };
}

function moveRow(
  ctx: WriteContext,
  converter: SheetConverter,
  row: SpecimenRow,
  train: OpticalTrain,
  reason: string,
): JournalChange[] {
  const changed = row.measurements.filter((one) => one.trainId !== train.id);
  const now = changed.map((one) => moved(converter, row, one, train));
  const from = [...new Set(changed.map((one) => one.trainId))];
  return replaceResults(ctx, row, now, {
    act: "rows.changeObjective",
    reason,
    train: { from, to: train.id },
  });
}

function changeObjective(ctx: WriteContext, input: Input, today: string): RowsChanged {
  const { db } = ctx;
  const sheet = requireSheet(db, input.sheetId);
  const train = trainWith(db, sheet, input.objectiveId);
  const converter = new SheetConverter(db, sheet, { personId: ctx.by.id, today });
  const changes = rowsNamed(db, sheet, input.rows).flatMap((row) =>
    moveRow(ctx, converter, row, train, input.reason),
  );
  const touched = [...new Set(changes.map((one) => one.rowId))];
  if (touched.length > 0) {
    const rows = touched.length === 1 ? "one row" : `${touched.length} rows`;
    journalAct(ctx, sheet.id, `the objective of ${rows}`, changes);
  }
  return rowsChanged(db, sheet.id, touched);
}

/** Another objective for rows that are there: an amendment that keeps the old results. */
export function changeObjectiveServices(deps: Deps) {
  return handlers({
    "rows.superseded": ({ rowId }) => {
      if (findRowEvenUndone(deps.db, rowId)) return supersededOfRow(deps.db, rowId);
      throw new Refusal("row.unknown", "That row is not on this bench.", { field: "rowId" });
    },

    "rows.changeObjective": (input, call) =>
      inTransactionOnceAbout(deps, call, input, {
        perform: (ctx) =>
          changeOfSheet(ctx, input.sheetId, input.reason, (watched) =>
            changeObjective(watched, input, deps.clock.today()),
          ),
        subjectOf: ({ count }) => (count === 0 ? "0" : String(lastDone(deps.db, input.sheetId)?.id ?? 0)),
        find: (db, actId) => {
          const act = findAct(db, Number(actId));
          return rowsChanged(db, input.sheetId, act ? rowsOfAct(db, act.id) : []);
        },
      }),
  });
}
