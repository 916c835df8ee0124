import { CertificateReplacement, type ItemRef, ServiceState } from "#core/contract/records/service-state.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, named, sql } from "../sql.ts";

const COLUMNS = sql`item_kind AS "kind", item_id AS "itemId", state, from_on AS "from", reason, at, by`;

function stateOf({ kind, itemId, ...state }: Row): ServiceState {
  return ServiceState.parse({ ...state, item: { kind, id: itemId } });
}

/** The last state of every item that has one. */
export function presentServiceStates(db: ReadableDb): ServiceState[] {
  return sql`SELECT ${COLUMNS} FROM service_state s
    WHERE id = (SELECT max(id) FROM service_state o WHERE o.item_kind = s.item_kind AND o.item_id = s.item_id)
    ORDER BY id`.all(db, stateOf);
}

/** Every state an item has had, newest first. */
export function serviceStatesOf(db: ReadableDb, item: ItemRef): ServiceState[] {
  return sql`SELECT ${COLUMNS} FROM service_state WHERE item_kind = ${item.kind}
    AND item_id = ${item.id} ORDER BY id DESC`.all(db, stateOf);
}

/** Every change of state there has been, oldest first. */
export function listServiceStates(db: ReadableDb): ServiceState[] {
  return sql`SELECT ${COLUMNS} FROM service_state ORDER BY id`.all(db, stateOf);
}

/** Why an item is out of service on a day; null when it is in service. */
export function outOfServiceSince(db: ReadableDb, item: ItemRef, today: string): ServiceState | null {
  const row = sql`SELECT ${COLUMNS} FROM service_state WHERE item_kind = ${item.kind} AND item_id = ${item.id}
    AND from_on <= ${today}
    ORDER BY id DESC LIMIT 1`.one(db);
  return row?.state === "out of service" ? stateOf(row) : null;
}

export function insertServiceState(
  db: WritableDb,
  { item, state, from, reason, at, by }: ServiceState,
): void {
  insert(db, "service_state", {
    item_kind: item.kind,
    item_id: item.id,
    state,
    from_on: from,
    reason,
    at,
    by,
  });
}

const TABLE_OF = {
  microscope: "microscope",
  objective: "objective",
  eyepiece: "eyepiece",
  "stage micrometer": "stage_micrometer",
  certificate: "certificate",
  calibration: "calibration",
  person: "person",
  reticle: "reticle",
  event: "equipment_event",
} as const;
export type RegisteredKind = keyof typeof TABLE_OF;

/** True when there is such a record. */
export function isRegistered(db: ReadableDb, kind: RegisteredKind, id: string): boolean {
  return sql`SELECT 1 FROM ${named(TABLE_OF[kind])} WHERE id = ${id}`.exists(db);
}

const REPLACEMENT = sql`certificate_id AS "certificateId", replaced_by AS "replacedBy", reason, at, by`;

export function listReplacements(db: ReadableDb): CertificateReplacement[] {
  return sql`SELECT ${REPLACEMENT} FROM certificate_replacement ORDER BY at`.all(db, CertificateReplacement);
}

export function replacementOf(db: ReadableDb, certificateId: string): CertificateReplacement | null {
  return sql`SELECT ${REPLACEMENT} FROM certificate_replacement
    WHERE certificate_id = ${certificateId}`.one(db, CertificateReplacement);
}

export function insertReplacement(db: WritableDb, replacement: CertificateReplacement): void {
  insert(db, "certificate_replacement", {
    certificate_id: replacement.certificateId,
    replaced_by: replacement.replacedBy,
    reason: replacement.reason,
    at: replacement.at,
    by: replacement.by,
  });
}
