import type { CheckRecord } from "#core/contract/records/check.ts";
import { FLAG_KEYS } from "#core/vocabulary/flag.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { forgetUndone } from "../../store/repositories/journal-repository.ts";
import {
  findRow,
  putMeasurement,
  type ReadSince,
  readSince,
} from "../../store/repositories/row-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { fitnessOfTrain } from "../equipment/train-fitness.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { changeOfSheet } from "./closed-sheet.ts";
import { stateForTrail } from "./row-from-trail.ts";

const FLAG = "check-before-use";

/** Whether the train was unfit when a reading was taken, by what was on record then and still counts. */
function wasUnfit(db: ReadableDb, trainId: string, { calibrationId, enteredAt }: ReadSince): boolean {
  const train = findTrain(db, trainId);
  if (!train) throw new Error(`the train ${trainId} of a check is missing`);
  const inForce = calibrationId === null ? null : findCalibration(db, calibrationId);
  return fitnessOfTrain(db, train, inForce, enteredAt.slice(0, 10), enteredAt).state !== "usable";
}

/** Results of the train of a check, read since it, with what their flag says: to be asked before the check is withdrawn. */
export function readingsSinceCheck(
  db: ReadableDb,
  { trainId, checkedAt }: CheckRecord,
): { readonly read: ReadSince; readonly unfit: boolean }[] {
  return readSince(db, trainId, checkedAt).map((read) => ({ read, unfit: wasUnfit(db, trainId, read) }));
}

/** The dimensions of one row whose flag goes or comes. */
function changeRow(ctx: WriteContext, rowId: string, dimensions: readonly string[], unfit: boolean): void {
  const { db } = ctx;
  for (const measurement of findRow(db, rowId)?.measurements ?? []) {
    if (!dimensions.includes(measurement.dimension)) continue;
    const flags = FLAG_KEYS.filter((key) => (key === FLAG ? unfit : measurement.flags.includes(key)));
    putMeasurement(db, rowId, { ...measurement, flags });
  }
  const row = findRow(db, rowId);
  ctx.audit({
    act: "checks.withdraw",
    subject: "specimen_row",
    subjectId: rowId,
    detail: stateForTrail(row, dimensions),
  });
}

/**
 * Takes the flag “check before use” from what was read since a check that counts no longer, where it came of that check
 * alone; and gives it where only that check had made the train fit. Readings and sizes stay. On a closed sheet this is an
 * amendment, and review and signature fall. No act of the sheets' journals: undo refuses what it changed.
 * @param before what `readingsSinceCheck` told while the check still counted
 * @returns how many results changed
 */
export function followWithdrawal(
  ctx: WriteContext,
  check: CheckRecord,
  before: ReturnType<typeof readingsSinceCheck>,
  reason: string,
): number {
  const changed = before.filter(
    ({ read, unfit }) => read.flagged === unfit && wasUnfit(ctx.db, check.trainId, read) !== unfit,
  );
  const bySheet = Map.groupBy(changed, ({ read }) => read.sheetId);
  for (const [sheetId, ofSheet] of bySheet) {
    changeOfSheet(ctx, sheetId, reason, (watched) => {
      const byRow = Map.groupBy(ofSheet, ({ read }) => read.rowId);
      for (const [rowId, ofRow] of byRow) {
        // All results of a row that change at once change the same way: one check was all that told.
        const dimensions = ofRow.map(({ read }) => read.dimension);
        changeRow(watched, rowId, dimensions, !ofRow[0]?.unfit);
      }
      forgetUndone(watched.db, sheetId);
      const detail = { checkId: check.id, results: ofSheet.length };
      watched.audit({ act: "sheets.flagsFollowed", subject: "sheet", subjectId: sheetId, reason, detail });
    });
  }
  return changed.length;
}
