import { CheckResult } from "#core/contract/records/check.ts";
import { EVENT_KINDS, type EventKind } from "#core/contract/records/equipment-event.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "./connection.ts";

/** A certificate with the micrometer it belongs to, without its table of lines. */
export interface ReferenceName {
  readonly micrometerId: string;
  readonly micrometer: string;
  readonly certificateId: string;
  readonly certificate: string;
  readonly laboratory: string;
  readonly dueOn: string;
}

/** By the certificate's id. */
export function referenceNames(db: ReadableDb): Map<string, ReferenceName> {
  const rows = all(
    db,
    `SELECT c.id, c.number, c.laboratory, c.due_on, m.id AS micrometer_id, m.name, m.serial
     FROM certificate c JOIN stage_micrometer m ON m.id = c.stage_micrometer_id`,
  );
  return new Map(
    rows.map((row) => [
      String(row.id),
      {
        micrometerId: String(row.micrometer_id),
        micrometer: `${row.name} (${row.serial})`,
        certificateId: String(row.id),
        certificate: String(row.number),
        laboratory: String(row.laboratory),
        dueOn: String(row.due_on),
      },
    ]),
  );
}

export interface StoredEvent {
  readonly kind: EventKind;
  readonly happenedOn: string;
  readonly words: string;
}

const kindOf = (row: Row): EventKind => EVENT_KINDS.find((kind) => kind === row.kind) ?? "other";

/** What happened to a train, oldest first. */
export function eventsOfTrain(db: ReadableDb, trainId: string): StoredEvent[] {
  return all(
    db,
    `SELECT e.kind, e.happened_on, e.words FROM equipment_event_train t
     JOIN equipment_event e ON e.id = t.event_id WHERE t.train_id = ? ORDER BY e.happened_on, e.rowid`,
    trainId,
  ).map((row) => ({ kind: kindOf(row), happenedOn: String(row.happened_on), words: String(row.words) }));
}

export interface StoredCheck {
  readonly id: string;
  readonly at: string;
  readonly personId: string;
  readonly result: CheckResult;
}

/** Quick checks of a train, oldest first. */
export function checksOfTrain(db: ReadableDb, trainId: string): StoredCheck[] {
  return all(
    db,
    `SELECT id, checked_at, checked_by, result_json FROM calibration_check
     WHERE train_id = ? ORDER BY checked_at, rowid`,
    trainId,
  ).map((row) => ({
    id: String(row.id),
    at: String(row.checked_at),
    personId: String(row.checked_by),
    result: CheckResult.parse(JSON.parse(String(row.result_json))),
  }));
}

/** From the calibration made by recalculating to the one whose settings it took, within one train. */
export function recalculationsOfTrain(db: ReadableDb, trainId: string): Map<string, string> {
  const rows = all(
    db,
    `SELECT r.calibration_id, r.from_calibration_id FROM calibration_recalculation r
     JOIN calibration c ON c.id = r.calibration_id WHERE c.train_id = ?`,
    trainId,
  );
  return new Map(rows.map((row) => [String(row.calibration_id), String(row.from_calibration_id)]));
}

export interface StoredTolerance {
  readonly id: string;
  readonly percent: string;
  readonly reason: string;
  readonly at: string;
  readonly by: string;
}

function toleranceOf(row: Row): StoredTolerance {
  const { id, percent, reason, at, by } = row;
  return {
    id: String(id),
    percent: String(percent),
    reason: String(reason),
    at: String(at),
    by: String(by),
  };
}

/** The latest decision; null while there is none. */
export function latestTolerance(db: ReadableDb): StoredTolerance | null {
  const row = one(
    db,
    `SELECT id, percent, reason, at, "by" FROM trend_tolerance ORDER BY at DESC, rowid DESC LIMIT 1`,
  );
  return row ? toleranceOf(row) : null;
}

export function findTolerance(db: ReadableDb, id: string): StoredTolerance | null {
  const row = one(db, `SELECT id, percent, reason, at, "by" FROM trend_tolerance WHERE id = ?`, id);
  return row ? toleranceOf(row) : null;
}

export function insertTolerance(db: WritableDb, decided: StoredTolerance): void {
  run(
    db,
    `INSERT INTO trend_tolerance (id, percent, reason, at, "by") VALUES (?, ?, ?, ?, ?)`,
    decided.id,
    decided.percent,
    decided.reason,
    decided.at,
    decided.by,
  );
}
