import type { ParsedInput } from "#core/contract/calls.ts";
import type { Measurement, RowsChanged, SpecimenRow } from "#core/contract/records/sheet.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { findAct, lastDone, rowsOfAct } from "../../store/repositories/journal-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout, type WriteContext } from "../write-context/in-transaction.ts";
import { rowsNamed } from "./change-objective.ts";
import { changeOfSheet } from "./closed-sheet.ts";
import { replaceResults } from "./replace-results.ts";
import { journalAct, rowsChanged } from "./row-journal.ts";
import { SheetConverter } from "./sheet-converter.ts";
import { requireSheet } from "./sheets.ts";

type Input = ParsedInput<"rows.convert">;

/** Readings that stayed divisions, derived with the factor in force now of the train they were read with. */
function converted(converter: SheetConverter, row: SpecimenRow): Measurement[] {
  return row.measurements.flatMap((measurement) => {
    const { calibrationId, divisions, dimension, trainId } = measurement;
    const calibration = converter.calibrationInForce(trainId);
    if (calibrationId !== null || divisions === null || calibration === null) return [];
    const of = { dimension, label: row.label, train: converter.trainOf(measurement), calibration };
    return [{ ...measurement, ...converter.convert(measurement, of) }];
  });
}

function convertRows(ctx: WriteContext, input: Input, today: string): RowsChanged {
  const { db } = ctx;
  const sheet = requireSheet(db, input.sheetId);
  const converter = new SheetConverter(db, sheet, { personId: ctx.by.id, today });
  const changes = rowsNamed(db, sheet, input.rows).flatMap((row) =>
    replaceResults(ctx, row, converted(converter, row), { act: "rows.convert", reason: input.reason }),
  );
  const touched = [...new Set(changes.map((one) => one.rowId))];
  if (touched.length === 0) {
    throw new Refusal(
      "rows.nothing-to-convert",
      "None of these rows waits for a factor that is in force now.",
      {
        field: "rows",
        hint: "Every result has its size, or its train is not calibrated yet: calibrate it and put the factor in force.",
      },
    );
  }
  const rows = touched.length === 1 ? "one row" : `${touched.length} rows`;
  journalAct(ctx, sheet.id, `the conversion of ${rows} read without a factor`, changes);
  return rowsChanged(db, sheet.id, touched);
}

/** Sizes for readings made before their train had a factor: an amendment that keeps what they were. */
export function convertRowsServices(deps: Deps) {
  return handlers({
    "rows.convert": (input, call) =>
      inTransactionOnceAbout(deps, call, input, {
        perform: (ctx) =>
          changeOfSheet(ctx, input.sheetId, input.reason, (watched) =>
            convertRows(watched, input, deps.clock.today()),
          ),
        subjectOf: () => String(lastDone(deps.db, input.sheetId)?.id ?? 0),
        find: (db, actId) => {
          const act = findAct(db, Number(actId));
          return rowsChanged(db, input.sheetId, act ? rowsOfAct(db, act.id) : []);
        },
      }),
  });
}
