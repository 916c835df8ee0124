import { createHash } from "node:crypto";
import { CountEvent, type CountField, type FieldPosition } from "#core/contract/records/count.ts";
import { CountCategory } from "#core/contract/records/count-method.ts";
import { textOfThousandths } from "#core/counting/inputs/counting-unit.ts";
import { canonicalJson } from "../canonical-json.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, type Query, sql } from "../sql.ts";

const COLUMNS = sql`sequence, kind, field, category, thousandths, row_id AS "rowId", strikes,
  struck_by AS "struckBy", at, by_person AS by, request_id AS "requestId", hash`;

/** What a press needs to know of its count: few columns, so that it costs the same however long the count is. */
export type CountingHead = ReturnType<typeof headOf> & { readonly categories: readonly CountCategory[] };
const headOf = columns({
  id: "text",
  state: ["counting", "paused", "closed"],
  currentField: "number",
  lastSequence: "number",
  lastHash: "text",
  linkedSheetId: "text?",
  /** Both null for a count that needs no train. */
  objectiveId: "text?",
  eyepieceId: "text?",
});

export function findCountingHead(db: ReadableDb, countId: string): CountingHead | null {
  const row = sql`SELECT id, state, categories_json AS categories, current_field AS "currentField",
    last_sequence AS "lastSequence", last_hash AS "lastHash", linked_sheet_id AS "linkedSheetId",
    objective_id AS "objectiveId", eyepiece_id AS "eyepieceId" FROM tally WHERE id = ${countId}`.one(db);
  if (!row) return null;
  const categories = CountCategory.array().parse(JSON.parse(String(row.categories)));
  return { ...headOf(row), categories };
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

export const eventByRequest = (requestId: string): Query =>
  sql`SELECT tally_id AS "countId", ${COLUMNS} FROM tally_event WHERE request_id = ${requestId}`;
export const lastUndoable = (countId: string): Query => sql`SELECT ${COLUMNS} FROM tally_event
  WHERE tally_id = ${countId} AND kind <> 'undo' AND struck_by IS NULL ORDER BY sequence DESC LIMIT 1`;
export const pageOfEvents = (countId: string, from: number, count: number): Query =>
  sql`SELECT ${COLUMNS} FROM tally_event WHERE tally_id = ${countId} AND sequence >= ${from}
    ORDER BY sequence LIMIT ${count}`;

export function findEventByRequest(
  db: ReadableDb,
  requestId: string,
): { readonly countId: string; readonly event: CountEvent } | null {
  const row = eventByRequest(requestId).one(db);
  if (!row) return null;
  const { countId, ...event } = row;
  return { countId: String(countId), event: eventOf(event) };
}

/** The last press or new field that an undo has not struck; null when there is none. */
export function lastUndoableEvent(db: ReadableDb, countId: string): CountEvent | null {
  return lastUndoable(countId).one(db, eventOf);
}

export function findEvent(db: ReadableDb, countId: string, sequence: number): CountEvent | null {
  return sql`SELECT ${COLUMNS} FROM tally_event WHERE tally_id = ${countId}
    AND sequence = ${sequence}`.one(db, eventOf);
}

/** In order, from a sequence number on. */
export function eventsFrom(db: ReadableDb, countId: string, from: number, count: number): CountEvent[] {
  return pageOfEvents(countId, from, count).all(db, eventOf);
}

/** Newest first. */
export function lastEvents(db: ReadableDb, countId: string, count: number): CountEvent[] {
  return sql`SELECT ${COLUMNS} FROM tally_event WHERE tally_id = ${countId}
    ORDER BY sequence DESC LIMIT ${count}`.all(db, eventOf);
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
  sql`UPDATE tally SET last_sequence = ${event.sequence}, last_hash = ${event.hash},
    current_field = ${currentField} WHERE id = ${countId}`.run(db);
}

export function strikeEvent(db: WritableDb, countId: string, sequence: number, by: number): void {
  sql`UPDATE tally_event SET struck_by = ${by} WHERE tally_id = ${countId}
    AND sequence = ${sequence}`.run(db);
}

/** Adds to the running sums of a field and of the whole count; negative numbers take back. */
export function addToCounts(
  db: WritableDb,
  countId: string,
  { field, category }: { readonly field: number; readonly category: string },
  thousandths: number,
  presses: number,
): void {
  const none = { thousandths: 0, presses: 0 };
  insert(db, "tally_field_count", { tally_id: countId, field, category, ...none }, "once");
  sql`UPDATE tally_field_count SET thousandths = thousandths + ${thousandths}, presses = presses + ${presses}
    WHERE tally_id = ${countId} AND field = ${field} AND category = ${category}`.run(db);
  insert(db, "tally_category_count", { tally_id: countId, category, ...none }, "once");
  sql`UPDATE tally_category_count SET thousandths = thousandths + ${thousandths},
    presses = presses + ${presses}
    WHERE tally_id = ${countId} AND category = ${category}`.run(db);
}

export function beginField(db: WritableDb, countId: string, ordinal: number, at: string): void {
  const field = {
    tally_id: countId,
    ordinal,
    begun_at: at,
    x_typed: null,
    y_typed: null,
    square_typed: null,
  };
  insert(db, "tally_field", field, ["tally_id", "ordinal"]);
}

/** The first field of a count that has waited is begun only when the count is. */
export function beginFirstField(db: WritableDb, countId: string, at: string): void {
  sql`UPDATE tally_field SET begun_at = ${at} WHERE tally_id = ${countId} AND ordinal = 1`.run(db);
}

export function placeField(
  db: WritableDb,
  countId: string,
  ordinal: number,
  position: FieldPosition | null,
): void {
  sql`UPDATE tally_field SET x_typed = ${position?.x ?? null}, y_typed = ${position?.y ?? null},
    square_typed = ${position?.square ?? null} WHERE tally_id = ${countId}
    AND ordinal = ${ordinal}`.run(db);
}

/** Thousandths of objects of every category of a count, and of one field of it. */
export function categorySums(db: ReadableDb, countId: string): ReadonlyMap<string, number> {
  const rows =
    sql`SELECT category, thousandths AS sum FROM tally_category_count WHERE tally_id = ${countId}`.all(db);
  return new Map(rows.map((row) => [String(row.category), Number(row.sum)]));
}

export function fieldSums(db: ReadableDb, countId: string, field: number): ReadonlyMap<string, number> {
  const rows = sql`SELECT category, thousandths AS sum FROM tally_field_count
    WHERE tally_id = ${countId} AND field = ${field}`.all(db);
  return new Map(rows.map((row) => [String(row.category), Number(row.sum)]));
}

/** Presses of a count by field and category as they are kept; field 0: of the whole count. */
export function pressSums(db: ReadableDb, countId: string): Map<string, number> {
  const rows =
    sql`SELECT field || ' ' || category AS key, presses FROM tally_field_count WHERE tally_id = ${countId}
      UNION ALL SELECT '0 ' || category, presses FROM tally_category_count
      WHERE tally_id = ${countId}`.all(db);
  return new Map(rows.map((row) => [String(row.key), Number(row.presses)]));
}

/** Every field up to the one in hand, with its counts, by number. A field taken back by an undo is left out. */
export function fieldsOfCount(db: ReadableDb, countId: string, currentField: number): CountField[] {
  const fields =
    sql`SELECT ordinal, x_typed AS x, y_typed AS y, square_typed AS square, begun_at AS "begunAt" FROM tally_field
    WHERE tally_id = ${countId} AND ordinal <= ${currentField} ORDER BY ordinal`
      .all(db)
      .map((row): CountField => {
        const square = row.square === null ? {} : { square: String(row.square) };
        const position = row.x === null ? null : { x: String(row.x), y: String(row.y), ...square };
        return {
          ordinal: Number(row.ordinal),
          position,
          begunAt: String(row.begunAt),
          counts: {},
          presses: {},
        };
      });
  const counts = sql`SELECT field, category, thousandths, presses FROM tally_field_count
    WHERE tally_id = ${countId} AND presses > 0 ORDER BY field, category`.all(db);
  for (const row of counts) {
    const field = fields[Number(row.field) - 1];
    if (!field) continue;
    field.counts[String(row.category)] = textOfThousandths(Number(row.thousandths));
    field.presses[String(row.category)] = Number(row.presses);
  }
  return fields;
}
