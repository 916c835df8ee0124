import { CALIBRATION_STATES, type CalibrationState } from "#core/contract/records/calibration.ts";
import { CheckResult } from "#core/contract/records/check.ts";
import { EVENT_KINDS, type EventKind } from "#core/contract/records/equipment-event.ts";
import type { DecimalText } from "#core/quantity/decimal-text.ts";
import { DECISION_RULES, type DecisionRule } from "#core/vocabulary/decision-rules.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

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
  const rows = sql`SELECT c.id, c.number, c.laboratory, c.due_on, m.id AS micrometer_id, m.name, m.serial
    FROM certificate c JOIN stage_micrometer m ON m.id = c.stage_micrometer_id`.all(db);
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

/** What a history needs of a calibration; its settings and budget stay where they are, for thousands are read at once. */
export interface StoredFactor {
  readonly id: string;
  readonly state: CalibrationState;
  readonly stageMicrometerId: string;
  readonly certificateId: string;
  readonly personId: string;
  readonly dueOn: string | null;
  readonly inForceAt: string;
  readonly endedAt: string | null;
  readonly endReason: string | null;
  readonly factor: DecimalText;
  readonly standardUncertainty: DecimalText;
  readonly expandedUncertainty: DecimalText;
  readonly commonUncertainty: DecimalText;
  readonly occasionUncertainty: DecimalText;
  readonly shownFactor: string;
  readonly shownUncertainty: string;
}

const textOrNull = (value: unknown): string | null => (value === null ? null : String(value));

function factorOf(row: Row): StoredFactor {
  const result = (name: string): DecimalText => String(row[name]) as DecimalText;
  return {
    id: String(row.id),
    state: CALIBRATION_STATES.find((state) => state === row.state) ?? "superseded",
    stageMicrometerId: String(row.stage_micrometer_id),
    certificateId: String(row.certificate_id),
    personId: String(row.person_id),
    dueOn: textOrNull(row.due_on),
    inForceAt: String(row.in_force_at),
    endedAt: textOrNull(row.ended_at),
    endReason: textOrNull(row.end_reason),
    factor: result("factor"),
    standardUncertainty: result("standard_uncertainty"),
    expandedUncertainty: result("expanded_uncertainty"),
    commonUncertainty: result("common_uncertainty"),
    occasionUncertainty: result("occasion_uncertainty"),
    shownFactor: String(row.shown_factor),
    shownUncertainty: String(row.shown_uncertainty),
  };
}

/** The factors that were ever in force for a train, oldest first; of a working factor the exact one, for its history. */
export function factorsOfTrain(db: ReadableDb, trainId: string): StoredFactor[] {
  return sql`SELECT id, state, stage_micrometer_id, certificate_id, person_id, due_on, in_force_at, ended_at,
    end_reason,
      coalesce(result_json ->> '$.working.factor', result_json ->> 'factor') AS factor,
      coalesce(result_json ->> '$.working.standardUncertainty',
      result_json ->> 'standardUncertainty') AS standard_uncertainty,
      coalesce(result_json ->> '$.working.expandedUncertainty',
      result_json ->> 'expandedUncertainty') AS expanded_uncertainty,
      coalesce(result_json ->> '$.working.commonUncertainty',
      result_json ->> 'commonUncertainty') AS common_uncertainty,
      result_json ->> 'occasionUncertainty' AS occasion_uncertainty,
      result_json ->> 'shownFactor' AS shown_factor,
      result_json ->> 'shownUncertainty' AS shown_uncertainty
    FROM calibration
    WHERE train_id = ${trainId} AND result_json IS NOT NULL AND in_force_at IS NOT NULL
    ORDER BY in_force_at, rowid`.all(db, factorOf);
}

export interface StoredEvent {
  readonly kind: EventKind;
  readonly happenedOn: string;
  readonly words: string;
  /** Somebody states that nothing was changed. */
  readonly unchanged: boolean;
}

const kindOf = (row: Row): EventKind => EVENT_KINDS.find((kind) => kind === row.kind) ?? "other";

/** What happened to a train, oldest first. */
export function eventsOfTrain(db: ReadableDb, trainId: string): StoredEvent[] {
  return sql`SELECT e.kind, e.happened_on, e.words, e.unchanged FROM equipment_event_train t
    JOIN equipment_event e ON e.id = t.event_id
    WHERE t.train_id = ${trainId} ORDER BY e.happened_on, e.rowid`.all(db, (row) => ({
    kind: kindOf(row),
    happenedOn: String(row.happened_on),
    words: String(row.words),
    unchanged: row.unchanged === 1,
  }));
}

export interface StoredCheck {
  readonly id: string;
  readonly at: string;
  readonly personId: string;
  readonly result: CheckResult;
  /** Why it was withdrawn; null: it counts. */
  readonly withdrawn: string | null;
}

/** Quick checks of a train, oldest first. */
export function checksOfTrain(db: ReadableDb, trainId: string): StoredCheck[] {
  return sql`SELECT c.id, c.checked_at, c.checked_by, c.result_json, w.reason AS withdrawn
    FROM calibration_check c
    LEFT JOIN calibration_check_withdrawal w ON w.check_id = c.id
    WHERE c.train_id = ${trainId} ORDER BY c.checked_at, c.rowid`
    .all(db)
    .map((row) => ({
      id: String(row.id),
      at: String(row.checked_at),
      personId: String(row.checked_by),
      result: CheckResult.parse(JSON.parse(String(row.result_json))),
      withdrawn: textOrNull(row.withdrawn),
    }));
}

/** From the calibration made by recalculating to the one whose settings it took, within one train. */
export function recalculationsOfTrain(db: ReadableDb, trainId: string): Map<string, string> {
  const rows = sql`SELECT r.calibration_id, r.from_calibration_id FROM calibration_recalculation r
    JOIN calibration c ON c.id = r.calibration_id WHERE c.train_id = ${trainId}`.all(db);
  return new Map(rows.map((row) => [String(row.calibration_id), String(row.from_calibration_id)]));
}

export interface StoredTolerance {
  readonly id: string;
  readonly percent: string;
  /** Null: decided before there was a choice; by guarded acceptance. */
  readonly rule: DecisionRule | null;
  readonly reason: string;
  readonly at: string;
  readonly by: string;
}

function toleranceOf(row: Row): StoredTolerance {
  const { id, percent, rule, reason, at, by } = row;
  return {
    id: String(id),
    percent: String(percent),
    rule: DECISION_RULES.find((one) => one === rule) ?? null,
    reason: String(reason),
    at: String(at),
    by: String(by),
  };
}

/** The latest decision; null while there is none. */
export function latestTolerance(db: ReadableDb): StoredTolerance | null {
  return sql`SELECT id, percent, rule, reason, at, "by" FROM trend_tolerance ORDER BY at DESC, rowid DESC
    LIMIT 1`.one(db, toleranceOf);
}

/** Every decision there has been, oldest first. */
export function listTolerances(db: ReadableDb): StoredTolerance[] {
  return sql`SELECT id, percent, rule, reason, at, "by" FROM trend_tolerance
    ORDER BY rowid`.all(db, toleranceOf);
}

export function findTolerance(db: ReadableDb, id: string): StoredTolerance | null {
  return sql`SELECT id, percent, rule, reason, at, "by" FROM trend_tolerance
    WHERE id = ${id}`.one(db, toleranceOf);
}

export function insertTolerance(db: WritableDb, decided: StoredTolerance): void {
  insert(db, "trend_tolerance", {
    id: decided.id,
    percent: decided.percent,
    rule: decided.rule,
    reason: decided.reason,
    at: decided.at,
    by: decided.by,
  });
}
