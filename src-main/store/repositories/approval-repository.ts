import type { CalibrationApproval } from "#core/contract/records/sign-off.ts";
import { all, insert, one, type ReadableDb, type Row, type WritableDb } from "../connection.ts";
import { assessmentsOf } from "./assessment-repository.ts";

/** A standing without what the laboratory's settings make of it. */
export type StoredApproval = Omit<CalibrationApproval, "confirmationWanted"> & { readonly inForce: boolean };

const APPROVAL = `SELECT c.id AS "calibrationId", c.state, r.from_calibration_id AS "from", f.at, f.by, f.words
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
  const order = "ORDER BY c.started_at, c.rowid";
  const rows =
    trainId === null
      ? all(db, `${APPROVAL} ${order}`)
      : all(db, `${APPROVAL} WHERE c.train_id = ? ${order}`, trainId);
  return rows.map((row) => approvalOf(db, row));
}

export function findApproval(db: ReadableDb, calibrationId: string): StoredApproval | null {
  const row = one(db, `${APPROVAL} WHERE c.id = ?`, calibrationId);
  return row ? approvalOf(db, row) : null;
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
  const row = one(
    db,
    "SELECT calibration_id FROM calibration_recalculation WHERE from_calibration_id = ? AND certificate_id = ?",
    fromCalibrationId,
    certificateId,
  );
  return row ? String(row.calibration_id) : null;
}

/** From which calibration each recalculated one was made, with what and by which re-evaluation. */
export function listRecalculations(db: ReadableDb): {
  readonly calibrationId: string;
  readonly from: string;
  readonly certificateId: string;
  readonly reevaluationId: string;
}[] {
  return all(
    db,
    `SELECT calibration_id AS "calibrationId", from_calibration_id AS "from", certificate_id AS "certificateId",
       reevaluation_id AS "reevaluationId" FROM calibration_recalculation`,
  ) as unknown as ReturnType<typeof listRecalculations>;
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
