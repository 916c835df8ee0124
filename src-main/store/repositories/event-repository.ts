import { EquipmentEvent } from "#core/contract/records/equipment-event.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, named, sql } from "../sql.ts";

/** An event as stored; which of its trains are still open follows from checks and calibrations. */
export type StoredEvent = Omit<EquipmentEvent, "openTrainIds">;
const Stored = EquipmentEvent.omit({ openTrainIds: true });

const COLUMNS = sql`id, kind, subject_kind AS "subjectKind", subject_id AS "subjectId",
  happened_on AS "happenedOn",
  words, unchanged,
  recorded_at AS "recordedAt", recorded_by AS "recordedBy"`;

function eventOf(db: ReadableDb, { subjectKind, subjectId, unchanged, ...row }: Row): StoredEvent {
  const trainIds = sql`SELECT train_id AS id FROM equipment_event_train
    WHERE event_id = ${String(row.id)} ORDER BY train_id`.all(db, ({ id }) => id);
  return Stored.parse({
    ...row,
    subject: { kind: subjectKind, id: subjectId },
    trainIds,
    ...(unchanged === 1 ? { unchanged: true } : {}),
  });
}

/** Newest first. */
export function listEvents(db: ReadableDb): StoredEvent[] {
  return sql`SELECT ${COLUMNS} FROM equipment_event ORDER BY recorded_at DESC, rowid DESC`.all(db, (row) =>
    eventOf(db, row),
  );
}

export function findEvent(db: ReadableDb, id: string): StoredEvent | null {
  return sql`SELECT ${COLUMNS} FROM equipment_event WHERE id = ${id}`.one(db, (row) => eventOf(db, row));
}

/** The events that touch a train, newest first. */
export function eventsOfTrain(db: ReadableDb, trainId: string): StoredEvent[] {
  return sql`SELECT ${COLUMNS} FROM equipment_event
    WHERE id IN (SELECT event_id FROM equipment_event_train WHERE train_id = ${trainId})
    ORDER BY happened_on DESC, recorded_at DESC`.all(db, (row) => eventOf(db, row));
}

/** How an eyepiece was lent and brought back by what was on record at an instant, newest first, up to a day. */
export function loansOfEyepiece(
  db: ReadableDb,
  eyepieceId: string,
  { day, until }: { readonly day: string; readonly until: string },
): StoredEvent[] {
  return sql`SELECT ${COLUMNS} FROM equipment_event
    WHERE subject_id = ${eyepieceId} AND kind IN ('lent', 'brought back')
      AND happened_on <= ${day} AND recorded_at <= ${until}
    ORDER BY rowid DESC`.all(db, (row) => eventOf(db, row));
}

export function insertEvent(db: WritableDb, event: StoredEvent): void {
  insert(db, "equipment_event", {
    id: event.id,
    kind: event.kind,
    subject_kind: event.subject.kind,
    subject_id: event.subject.id,
    happened_on: event.happenedOn,
    words: event.words,
    unchanged: event.unchanged ? 1 : 0,
    recorded_at: event.recordedAt,
    recorded_by: event.recordedBy,
  });
  for (const trainId of event.trainIds) {
    insert(db, "equipment_event_train", { train_id: trainId, event_id: event.id });
  }
}

const TRAIN_COLUMN = {
  microscope: "microscope_id",
  objective: "objective_id",
  eyepiece: "eyepiece_id",
} as const;

/** The trains that a part belongs to. */
export function trainIdsWith(
  db: ReadableDb,
  part: { kind: keyof typeof TRAIN_COLUMN; id: string },
): string[] {
  return sql`SELECT id FROM optical_train
    WHERE ${named(TRAIN_COLUMN[part.kind])} = ${part.id} ORDER BY rowid`.all(db, firstText);
}
