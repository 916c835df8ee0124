import type { CalibrationApproval } from "#core/contract/records/sign-off.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";
import { assessmentsOf } from "./assessment-repository.ts";

/** A standing without what the laboratory's settings make of it. */
export type StoredApproval = Omit<CalibrationApproval, "confirmationWanted"> & { readonly inForce: boolean };

const APPROVAL = sql`SELECT c.id AS "calibrationId", c.state, r.from_calibration_id AS "from", f.at, f.by,
  f.words
  FROM calibration c
  LEFT JOIN calibration_recalculation r ON r.calibration_id = c.id
  LEFT JOIN calibration_confirmation f ON f.calibration_id = c.id`;

function approvalOf(db: ReadableDb, row: Row): StoredApproval {
  return {
    calibrationId: String(row.calibrationId),
    origin: row.from === null ? "measured" : "recalculated",
    recalculatedFrom: row.from === null ? null : String(row.from),
    confirmation:
      row.at === null ? null : { at: String(row.at), by: String(row.by), words: String(row.words) },
    assessments: assessmentsOf(db, String(row.calibrationId)),
    inForce: row.state === "in force",
  };
}

/** In the order in which the calibrations were begun; of one train, or all. */
export function listApprovals(db: ReadableDb, trainId: string | null): StoredApproval[] {
  const which = trainId === null ? sql`` : sql`WHERE c.train_id = ${trainId}`;
  return sql`${APPROVAL} ${which} ORDER BY c.started_at, c.rowid`.all(db, (row) => approvalOf(db, row));
}

export function findApproval(db: ReadableDb, calibrationId: string): StoredApproval | null {
  return sql`${APPROVAL} WHERE c.id = ${calibrationId}`.one(db, (row) => approvalOf(db, row));
}

export function insertConfirmation(
  db: WritableDb,
  calibrationId: string,
  confirmation: { readonly at: string; readonly by: string; readonly words: string },
): void {
  insert(db, "calibration_confirmation", {
    calibration_id: calibrationId,
    at: confirmation.at,
    by: confirmation.by,
    words: confirmation.words,
  });
}

/** The calibration recalculated from another with a certificate; null: there is none. */
export function recalculationOf(
  db: ReadableDb,
  fromCalibrationId: string,
  certificateId: string,
): string | null {
  return sql`SELECT calibration_id FROM calibration_recalculation
    WHERE from_calibration_id = ${fromCalibrationId}
    AND certificate_id = ${certificateId}`.one(db, firstText);
}

const recalculationRow = columns({
  calibrationId: "text",
  from: "text",
  certificateId: "text",
  reevaluationId: "text",
});

/** From which calibration each recalculated one was made, with what and by which re-evaluation. */
export function listRecalculations(db: ReadableDb): ReturnType<typeof recalculationRow>[] {
  return sql`SELECT calibration_id AS "calibrationId", from_calibration_id AS "from",
    certificate_id AS "certificateId", reevaluation_id AS "reevaluationId"
    FROM calibration_recalculation`.all(db, recalculationRow);
}

export function insertRecalculation(
  db: WritableDb,
  of: {
    readonly calibrationId: string;
    readonly fromCalibrationId: string;
    readonly certificateId: string;
    readonly reevaluationId: string;
  },
): void {
  insert(db, "calibration_recalculation", {
    calibration_id: of.calibrationId,
    from_calibration_id: of.fromCalibrationId,
    certificate_id: of.certificateId,
    reevaluation_id: of.reevaluationId,
  });
}
