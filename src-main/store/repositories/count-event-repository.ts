import { createHash } from "node:crypto";
import { CountEvent, type CountField } from "#core/contract/records/count.ts";
import { CountCategory } from "#core/contract/records/count-method.ts";
import { textOfThousandths } from "#core/counting/inputs/counting-unit.ts";
import { canonicalJson } from "../canonical-json.ts";
import { all, insert, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";

const COLUMNS = `sequence, kind, field, category, thousandths, row_id AS "rowId", strikes,
  struck_by AS "struckBy", at, by_person AS by, request_id AS "requestId", hash`;

/** What a press needs to know of its count: few columns, so that it costs the same however long the count is. */
export interface CountingHead {
  readonly id: string;
  readonly state: "counting" | "paused" | "closed";
  readonly categories: readonly CountCategory[];
  readonly currentField: number;
  readonly lastSequence: number;
  readonly lastHash: string;
  readonly linkedSheetId: string | null;
}

const HEAD = `SELECT id, state, categories_json AS categories, current_field AS "currentField",
  last_sequence AS "lastSequence", last_hash AS "lastHash", linked_sheet_id AS "linkedSheetId"
  FROM tally WHERE id = ?`;

export function findCountingHead(db: ReadableDb, countId: string): CountingHead | null {
  const row = one(db, HEAD, countId);
  if (!row) return null;
  const categories = CountCategory.array().parse(JSON.parse(String(row.categories)));
  return { ...row, categories } as unknown as CountingHead;
}

function eventOf({ thousandths, ...row }: Row): CountEvent {
  const weight = thousandths === null ? null : textOfThousandths(Number(thousandths));
  return CountEvent.parse({ ...row, weight });
}

/** The hash that the first event of a count follows: it names the count, so that chains cannot be exchanged. */
export function firstHashOf(countId: string): string {
  return createHash("sha256").update(`tally ${countId}`, "utf8").digest("hex");
}

/** SHA-256 over the canonical JSON of every column but `struckBy` and the hash, and the hash of the event before. */
export function hashOfEvent(event: Omit<CountEvent, "hash" | "struckBy">, previous: string): string {
  const { sequence, kind, field, category, weight, rowId, strikes, at, by, requestId } = event;
  const text = canonicalJson({
    sequence,
    kind,
    field,
    category,
    weight,
    rowId,
    strikes,
    at,
    by,
    requestId,
    previous,
  });
  return createHash("sha256").update(text, "utf8").digest("hex");
}

export const EVENT_BY_REQUEST = `SELECT tally_id AS "countId", ${COLUMNS} FROM tally_event WHERE request_id = ?`;
export const LAST_UNDOABLE = `SELECT ${COLUMNS} FROM tally_event
  WHERE tally_id = ? AND kind <> 'undo' AND struck_by IS NULL ORDER BY sequence DESC LIMIT 1`;
export const EVENTS_FROM = `SELECT ${COLUMNS} FROM tally_event
  WHERE tally_id = ? AND sequence >= ? ORDER BY sequence LIMIT ?`;

export function findEventByRequest(
  db: ReadableDb,
  requestId: string,
): { readonly countId: string; readonly event: CountEvent } | null {
  const row = one(db, EVENT_BY_REQUEST, requestId);
  if (!row) return null;
  const { countId, ...event } = row;
  return { countId: String(countId), event: eventOf(event) };
}

/** The last press or new field that an undo has not struck; null when there is none. */
export function lastUndoableEvent(db: ReadableDb, countId: string): CountEvent | null {
  const row = one(db, LAST_UNDOABLE, countId);
  return row ? eventOf(row) : null;
}

export function findEvent(db: ReadableDb, countId: string, sequence: number): CountEvent | null {
  const row = one(
    db,
    `SELECT ${COLUMNS} FROM tally_event WHERE tally_id = ? AND sequence = ?`,
    countId,
    sequence,
  );
  return row ? eventOf(row) : null;
}

/** In order, from a sequence number on. */
export function eventsFrom(db: ReadableDb, countId: string, from: number, count: number): CountEvent[] {
  return all(db, EVENTS_FROM, countId, from, count).map(eventOf);
}

/** Newest first. */
export function lastEvents(db: ReadableDb, countId: string, count: number): CountEvent[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM tally_event WHERE tally_id = ? ORDER BY sequence DESC LIMIT ?`,
    countId,
    count,
  ).map(eventOf);
}

/** Appends an event and moves the head of its count on. */
export function appendEvent(
  db: WritableDb,
  countId: string,
  event: CountEvent,
  thousandths: number | null,
  currentField: number,
): void {
  insert(db, "tally_event", {
    tally_id: countId,
    sequence: event.sequence,
    kind: event.kind,
    field: event.field,
    category: event.category,
    thousandths,
    row_id: event.rowId,
    strikes: event.strikes,
    at: event.at,
    by_person: event.by,
    request_id: event.requestId,
    hash: event.hash,
  });
  run(
    db,
    "UPDATE tally SET last_sequence = ?, last_hash = ?, current_field = ? WHERE id = ?",
    event.sequence,
    event.hash,
    currentField,
    countId,
  );
}

export function strikeEvent(db: WritableDb, countId: string, sequence: number, by: number): void {
  run(db, "UPDATE tally_event SET struck_by = ? WHERE tally_id = ? AND sequence = ?", by, countId, sequence);
}

/** Adds to the running sums of a field and of the whole count; negative numbers take back. */
export function addToCounts(
  db: WritableDb,
  countId: string,
  { field, category }: { readonly field: number; readonly category: string },
  thousandths: number,
  presses: number,
): void {
  run(
    db,
    `INSERT OR IGNORE INTO tally_field_count (tally_id, field, category, thousandths, presses) VALUES (?, ?, ?, 0, 0)`,
    countId,
    field,
    category,
  );
  run(
    db,
    `UPDATE tally_field_count SET thousandths = thousandths + ?, presses = presses + ?
     WHERE tally_id = ? AND field = ? AND category = ?`,
    thousandths,
    presses,
    countId,
    field,
    category,
  );
  run(
    db,
    `INSERT OR IGNORE INTO tally_category_count (tally_id, category, thousandths, presses) VALUES (?, ?, 0, 0)`,
    countId,
    category,
  );
  run(
    db,
    `UPDATE tally_category_count SET thousandths = thousandths + ?, presses = presses + ?
     WHERE tally_id = ? AND category = ?`,
    thousandths,
    presses,
    countId,
    category,
  );
}

export function beginField(db: WritableDb, countId: string, ordinal: number, at: string): void {
  run(
    db,
    `INSERT INTO tally_field (tally_id, ordinal, begun_at) VALUES (?, ?, ?)
     ON CONFLICT (tally_id, ordinal) DO UPDATE SET begun_at = excluded.begun_at, x_typed = NULL, y_typed = NULL`,
    countId,
    ordinal,
    at,
  );
}

export function placeField(
  db: WritableDb,
  countId: string,
  ordinal: number,
  position: { readonly x: string; readonly y: string },
): void {
  run(
    db,
    "UPDATE tally_field SET x_typed = ?, y_typed = ? WHERE tally_id = ? AND ordinal = ?",
    position.x,
    position.y,
    countId,
    ordinal,
  );
}

/** Thousandths of objects of every category of a count, and of one field of it. */
export function categorySums(db: ReadableDb, countId: string): ReadonlyMap<string, number> {
  const rows = all(
    db,
    `SELECT category, thousandths AS sum FROM tally_category_count WHERE tally_id = ?`,
    countId,
  );
  return new Map(rows.map((row) => [String(row.category), Number(row.sum)]));
}

export function fieldSums(db: ReadableDb, countId: string, field: number): ReadonlyMap<string, number> {
  const rows = all(
    db,
    `SELECT category, thousandths AS sum FROM tally_field_count WHERE tally_id = ? AND field = ?`,
    countId,
    field,
  );
  return new Map(rows.map((row) => [String(row.category), Number(row.sum)]));
}

/** Presses of a count by field and category as they are kept; field 0: of the whole count. */
export function pressSums(db: ReadableDb, countId: string): Map<string, number> {
  const rows = all(
    db,
    `SELECT field || ' ' || category AS key, presses FROM tally_field_count WHERE tally_id = :countId
     UNION ALL SELECT '0 ' || category, presses FROM tally_category_count WHERE tally_id = :countId`,
    { countId },
  );
  return new Map(rows.map((row) => [String(row.key), Number(row.presses)]));
}

/** Every field up to the one in hand, with its counts, by number. A field taken back by an undo is left out. */
export function fieldsOfCount(db: ReadableDb, countId: string, currentField: number): CountField[] {
  const fields = all(
    db,
    `SELECT ordinal, x_typed AS x, y_typed AS y, begun_at AS "begunAt" FROM tally_field
     WHERE tally_id = ? AND ordinal <= ? ORDER BY ordinal`,
    countId,
    currentField,
  ).map((row): CountField => {
    const position = row.x === null ? null : { x: String(row.x), y: String(row.y) };
    return {
      ordinal: Number(row.ordinal),
      position,
      begunAt: String(row.begunAt),
      counts: {},
      presses: {},
    };
  });
  const counts = all(
    db,
    `SELECT field, category, thousandths, presses FROM tally_field_count
     WHERE tally_id = ? AND presses > 0 ORDER BY field, category`,
    countId,
  );
  for (const row of counts) {
    const field = fields[Number(row.field) - 1];
    if (!field) continue;
    field.counts[String(row.category)] = textOfThousandths(Number(row.thousandths));
    field.presses[String(row.category)] = Number(row.presses);
  }
  return fields;
}
